import { notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { followNewAnimal } from "../growth/cohort/predict-new-animal.js";
import type { AnimalSeries } from "../series/animal-series.js";

export interface CalibrateForecastOptions {
  /** How far ahead, days. Default 14. */
  readonly aheadD?: number;
  readonly level?: number;
  /** Fewest weighings before a forecast is replayed. Default 5. */
  readonly minimumWeighings?: number;
  readonly covariatesOf?: (series: AnimalSeries) => Readonly<Record<string, string | number>>;
}

export interface ForecastCalibration {
  readonly aheadD: number;
  readonly level: number;
  /** Half width in standard errors that held the level in the replay; for `ForecastModel`. */
  readonly multiplier: number | null;
  readonly forecasts: number;
  readonly animals: number;
  /** Share of the replayed weighings inside the model's own interval. */
  readonly coverageBefore: number | null;
}

/**
 * How wide a forecast's interval must be so that it holds: each animal is
 * replayed, once a week a forecast is made from its weighings up to that day, and
 * the mass found `aheadD` days later is set against it. The multiplier is the
 * level's quantile of |found - forecast| / standard error, each animal counting
 * once. A growth model knows nothing of illness and of changes in feeding, so
 * its own intervals are too narrow; this is how much.
 *
 * Best on animals that were not in the fit (an earlier season's model on a later
 * season). At least four animals are needed.
 *
 * @example calibrateForecast(fit, animals).value.multiplier // 3.1
 */
export function calibrateForecast(
  fit: CohortFit,
  animals: readonly AnimalSeries[],
  options: CalibrateForecastOptions = {},
): Result<"calibrate-forecast", ForecastCalibration> {
  const aheadD = options.aheadD ?? 14;
  const level = options.level ?? 0.95;
  const minimum = options.minimumWeighings ?? 5;
  const ratios: { size: number; weight: number }[] = [];
  let inside = 0;
  let forecasts = 0;
  let used = 0;
  for (const series of fit.value.population === null ? [] : animals) {
    const covariates = options.covariatesOf?.(series);
    const one = followNewAnimal(fit, covariates === undefined ? {} : { covariates });
    const rows = series.daily.filter((d) => d.ageD !== null && d.massG > 0);
    const own: number[] = [];
    let lastMade = Number.NEGATIVE_INFINITY;
    rows.forEach((row, i) => {
      one.weigh(row.ageD!, row.massG);
      if (i + 1 < minimum || row.ageD! - lastMade < 7) return;
      const later = rows.find((r) => Math.abs(r.ageD! - row.ageD! - aheadD) <= 1);
      if (later === undefined || later.ageD! > fit.value.ages.to) return;
      lastMade = row.ageD!;
      const e = one.expect(later.ageD!, { level, intervalFor: "next reading" });
      own.push(Math.abs(later.massG - e.mass) / e.se);
      if (later.massG >= e.lower && later.massG <= e.upper) inside++;
      forecasts++;
    });
    if (own.length > 0) used++;
    for (const size of own) ratios.push({ size, weight: 1 / own.length });
  }
  const enough = used >= 4;
  return {
    kind: "calibrate-forecast",
    schema: 1,
    value: {
      aheadD,
      level,
      multiplier: enough ? weightedQuantile(ratios, level) : null,
      forecasts,
      animals: used,
      coverageBefore: forecasts === 0 ? null : inside / forecasts,
    },
    method: {
      name: "Replay of forecasts, quantile of their errors",
      options: { aheadD, level, minimumWeighings: minimum },
      citations: [],
    },
    basis: { used: forecasts, leftOut: [], of: "replayed forecasts" },
    diagnostics: {},
    notices: enough
      ? []
      : [notice("forecast-not-calibrated", "caution", { animals: used, needed: 4 })],
  };
}

function weightedQuantile(values: readonly { size: number; weight: number }[], p: number): number {
  const sorted = [...values].sort((a, b) => a.size - b.size);
  const total = sorted.reduce((s, v) => s + v.weight, 0);
  let sum = 0;
  for (const v of sorted) {
    sum += v.weight;
    if (sum >= p * total) return v.size;
  }
  return sorted.at(-1)!.size;
}
