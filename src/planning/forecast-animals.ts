import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { causalPhases } from "../flags/watch/causal-phases.js";
import { coursesAhead } from "../flags/watch/courses-ahead.js";
import { watchedSpecies } from "../flags/watch/watch-study.js";
import { phaseAt, phasesOf } from "../rates/phases-of.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import { inCareOn } from "../reference/in-care.js";
import type { StudySeries } from "../series/animal-series.js";
import { targetMassAt } from "../series/orders/orders-of.js";
import { addDays, feedingDayOf, numberOfDate } from "../units/calendar.js";
import {
  backtestD,
  forecastHorizonD,
  forecastTarget,
  type TargetForecast,
} from "./forecast-target.js";

export interface ForecastAnimalsOptions extends LongWork {
  readonly species: string;
  /** Made at this instant from data up to it. */
  readonly at: number;
  /** Target mass, g. Default: the target of each animal's plan in force; without one it is left out. */
  readonly targetG?: number;
}

export interface AnimalForecasts {
  readonly species: string;
  readonly forecasts: readonly TargetForecast[];
  /** Animals of the species whose weighings stand behind what is expected, earlier seasons included. */
  readonly animals: number;
}

/**
 * When each animal in care reaches its target mass, and what it should weigh until
 * then, from the same model as the watch over weighings: species, other nurseries'
 * prior files, earlier seasons, this season's group and the animal's own weighings up to
 * the instant. What would have been forecast two weeks before stands beside it.
 *
 * @example forecastAnimals(series, { species: "sea otter", at, targetG: 7000 }).value.forecasts[0]?.likely // "2024-08-20"
 */
export function forecastAnimals(
  study: StudySeries,
  options: ForecastAnimalsOptions,
): Result<"forecast-animals", AnimalForecasts> {
  const { settings } = study;
  const { at, species, signal, onProgress } = options;
  const today = feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
  const before = addDays(today, -backtestD);
  const known = study.animals
    .filter((s) => s.animal.species === species && (s.span?.from ?? Infinity) <= at)
    .map((s) => seriesUpTo(s, at));
  const then = { ...study, animals: known };
  onProgress?.({ done: 0, total: 2, doing: "reading the weighings" });
  const [watched] = watchedSpecies(then, { phaseOn: causalPhases(then) });
  stopIfCancelled(signal);
  onProgress?.({ done: 1, total: 2, doing: "following every animal" });
  const [earlier, now] =
    watched === undefined
      ? [undefined, undefined]
      : coursesAhead(watched, [numberOfDate(before), numberOfDate(today)]);
  stopIfCancelled(signal);
  const notices: Notice[] = [];
  const forecasts = known
    .filter((s) => inCareOn(s, today, settings))
    .flatMap((s): TargetForecast[] => {
      const animal = s.animal.animalId;
      const targetG = options.targetG ?? targetMassAt(s.orders, at);
      if (targetG === null) {
        notices.push(notice("forecast-no-target", "info", { animal }));
        return [];
      }
      const course = earlier?.get(animal);
      const { phases } = phasesOf(s, { settings, endAt: at }).value;
      const phase = phaseAt(phases, at)?.phase ?? null;
      return [
        forecastTarget(s, now?.get(animal) ?? null, {
          settings,
          targetG,
          at,
          phase,
          earlier: course === undefined ? null : { day: before, course },
        }),
      ];
    });
  for (const f of forecasts) if (f.refused !== null) notices.push(f.refused);
  onProgress?.({ done: 2, total: 2, doing: "done" });
  return {
    kind: "forecast-animals",
    schema: 2,
    value: {
      species,
      forecasts,
      animals: watched?.animals.filter((a) => a.day.length > 0).length ?? 0,
    },
    method: {
      name: "The watch's model carried forward: mixtures of normals, first day the target is reached",
      options: { at, species, targetG: options.targetG ?? "plan", horizonD: forecastHorizonD },
      citations: [
        "Harvey (1989) Forecasting, Structural Time Series Models and the Kalman Filter",
        "Schmidli et al. (2014) Biometrics 70:1023-1032",
      ],
    },
    basis: { used: forecasts.length, leftOut: [], of: "animals in care" },
    diagnostics: {},
    notices,
  };
}
