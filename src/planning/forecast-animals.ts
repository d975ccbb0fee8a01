import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { fitCohort } from "../growth/cohort/fit-cohort.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import { phasesOf } from "../rates/phases-of.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import { inCareOn } from "../reference/in-care.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";
import { targetMassAt } from "../series/orders/orders-of.js";
import { feedingDayOf } from "../units/calendar.js";
import { calibrateForecast, type ForecastCalibration } from "./calibrate-forecast.js";
import { forecastTarget, type TargetForecast } from "./forecast-target.js";

export interface ForecastAnimalsOptions extends LongWork {
  readonly species: string;
  /** Made at this instant from data up to it. */
  readonly at: number;
  /** Target mass, g. Default: the target of each animal's plan in force; without one it is left out. */
  readonly targetG?: number;
  /** Default "gompertz". */
  readonly curve?: CurveName;
}

export interface AnimalForecasts {
  readonly species: string;
  readonly forecasts: readonly TargetForecast[];
  readonly calibration: ForecastCalibration;
  readonly fit: CohortFit;
  /** Animals the cohort model was fitted to. */
  readonly cohort: readonly string[];
}

/**
 * When each animal in care reaches its target mass. The cohort model is fitted
 * to the animals of the species that have left care by then, so no animal helps
 * to forecast itself; its intervals are widened by what a replay on those same
 * animals shows to be needed. Arrival and the fast after weaning are left out of
 * the curves.
 *
 * @example forecastAnimals(series, { species: "sea otter", at }).value.forecasts[0]?.likely // "2024-08-20"
 */
export function forecastAnimals(
  study: StudySeries,
  options: ForecastAnimalsOptions,
): Result<"forecast-animals", AnimalForecasts> {
  const { settings } = study;
  const { at, species, curve = "gompertz", signal, onProgress } = options;
  const today = feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
  const own = study.animals
    .filter((s) => s.animal.species === species && (s.span?.from ?? Infinity) <= at)
    .map((s) => seriesUpTo(s, at));
  const here = own.filter((s) => inCareOn(s, today, settings));
  const past = own.filter((s) => !here.includes(s) && s.age.usableForWeightForAge);
  onProgress?.({ done: 0, total: 3, doing: "cutting growth phases" });
  const grown = past.map((s) => growthOnly(s, settings));
  stopIfCancelled(signal);
  onProgress?.({ done: 1, total: 3, doing: "fitting the cohort" });
  const fit = fitCohort(
    grown.map((s) => ({
      animal: s.animal.animalId,
      ages: s.daily.flatMap((d) => (d.ageD === null ? [] : [d.ageD])),
      masses: s.daily.flatMap((d) => (d.ageD === null ? [] : [d.massG])),
    })),
    { curve },
  );
  stopIfCancelled(signal);
  onProgress?.({ done: 2, total: 3, doing: "replaying earlier forecasts" });
  const calibration = calibrateForecast(fit, grown);
  const { multiplier } = calibration.value;
  const notices: Notice[] = [...fit.notices, ...calibration.notices];
  const forecasts = here.flatMap((s): TargetForecast[] => {
    const targetG = options.targetG ?? targetMassAt(s.orders, at);
    if (targetG === null) {
      notices.push(notice("forecast-no-target", "info", { animal: s.animal.animalId }));
      return [];
    }
    return [
      forecastTarget(growthOnly(s, settings), {
        settings,
        model: { kind: "cohort", fit, ...(multiplier === null ? {} : { multiplier }) },
        targetG,
        at,
      }).value,
    ];
  });
  onProgress?.({ done: 3, total: 3, doing: "done" });
  return {
    kind: "forecast-animals",
    schema: 1,
    value: {
      species,
      forecasts,
      calibration: calibration.value,
      fit,
      cohort: fit.value.animals.map((a) => a.animal),
    },
    method: {
      name: "Cohort model of animals that have left care, intervals widened by replay",
      options: { at, species, curve, targetG: options.targetG ?? "plan" },
      citations: fit.method.citations,
    },
    basis: { used: here.length, leftOut: [], of: "animals in care" },
    diagnostics: { status: fit.value.status, multiplier },
    notices,
  };
}

/** The history without arrival and from the fast on. */
function growthOnly(series: AnimalSeries, settings: StudySeries["settings"]): AnimalSeries {
  const { phases } = phasesOf(series, { settings }).value;
  const from = phases.find((p) => p.phase === "arrival")?.to ?? Number.NEGATIVE_INFINITY;
  const to = phases.find((p) => p.phase === "post-weaning fast")?.from ?? Number.POSITIVE_INFINITY;
  return { ...series, daily: series.daily.filter((d) => d.at >= from && d.at < to) };
}
