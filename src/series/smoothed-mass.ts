import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { dayMs } from "../units/day-ms.js";
import type { AnimalSeries, DailyMass, Instant } from "./animal-series.js";
import { robustLine } from "./robust-line.js";
import { rowsBetween } from "./rows-between.js";

export interface SmoothedMassOptions {
  /** Use no weighing after this instant: what was known then. Default: all. */
  readonly upTo?: Instant;
  /** Days to either side that count. Default 5. */
  readonly halfWidthD?: number;
}

/**
 * The body mass of an animal at an instant, smoothed: a bisquare line through
 * the logarithms of its daily masses nearby, weighted by nearness (tricube) and
 * by their stated errors. Used for % of body mass and for phases. Not defined
 * where no daily mass lies within twice the half width; with a single one, that
 * value with its error.
 *
 * @returns grams with a standard error and the number of days used.
 * @example smoothedMassAt(series, at) // { value: 3254, unit: "g", se: 9, n: 12 }
 */
export function smoothedMassAt(
  series: AnimalSeries,
  at: Instant,
  options: SmoothedMassOptions = {},
): Measured {
  const upTo = options.upTo ?? Number.POSITIVE_INFINITY;
  const half = options.halfWidthD ?? 5;
  let near: readonly DailyMass[] = [];
  let width = half;
  // Widen, up to twice the half width, until three days are at hand.
  for (const step of [1, 1.4, 2]) {
    width = half * step;
    near = rowsBetween(series.daily, at - width * dayMs, at + width * dayMs).filter(
      (d) => d.at <= upTo && Math.abs(d.at - at) < width * dayMs,
    );
    if (near.length >= 3) break;
  }
  const place = { animal: series.animal.animalId };
  if (near.length === 0)
    return notDefined("g", notice("series-no-mass-near", "caution", { at, days: width }, place));
  const errors = near.map((d) => Math.max(1e-4, d.errorG / d.massG));
  const x = near.map((d) => (d.at - at) / dayMs);
  if (near.length < 3) {
    const nearest = near.reduce((a, b) => (Math.abs(b.at - at) < Math.abs(a.at - at) ? b : a));
    const away = Math.abs(nearest.at - at) / dayMs;
    // Unknown growth over the days between: two per cent a day either way.
    const se = nearest.massG * Math.hypot(nearest.errorG / nearest.massG, 0.02 * away);
    return measured(nearest.massG, "g", { se, n: near.length });
  }
  const mean = errors.reduce((a, b) => a + b, 0) / errors.length;
  const weights = x.map(
    (d, i) => (1 - (Math.abs(d) / (width * 1.0001)) ** 3) ** 3 * (mean / errors[i]!) ** 2,
  );
  const line = robustLine(
    x,
    near.map((d) => Math.log(d.massG)),
    weights,
    mean,
  );
  const massG = Math.exp(line.level);
  return measured(massG, "g", { se: massG * line.levelError, n: near.length });
}
