import { type Measured, measured, normal95, normalInterval } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import { smoothTrend, type TrendState } from "../stats/state-space/trend.js";
import { dayMs } from "../units/day-ms.js";

export interface OwnTrendDay {
  readonly feedingDay: CivilDate;
  readonly at: number;
  /** True mass as known from all weighings up to the last, with its 95 % interval. */
  readonly mass: Measured;
  readonly relativeGain: Measured;
  readonly gain: Measured;
  /** What that day's weighing was from what went before, in standard errors; null for the first two. */
  readonly surprise: number | null;
}

export interface OwnTrendOptions {
  /** Only weighings up to this instant. Default: all. */
  readonly upTo?: number;
}

/** Noise of a weighing beyond its stated error, and daily steps of level and slope, to choose from. */
const extraNoise = [0, 0.005, 0.01, 0.015, 0.02, 0.03];
const levelSteps = [0.0003, 0.001, 0.003];
const slopeSteps = [0.0001, 0.0003, 0.001];

/**
 * The animal's true mass and gain from its own weighings alone, for where no
 * cohort exists: level and trend of ln mass at the real instants, each weighing
 * with its stated error (method, coat, meal) plus a noise of its own, wild values
 * pulled in. Noise and smoothness are the most likely of a small grid. Intervals
 * cover the estimate at these settings, not the choice of them.
 *
 * @example ownTrend(series).value.at(-1)?.gain // { value: 21.4, unit: "g/d", se: 6.2, ... }
 */
export function ownTrend(
  series: AnimalSeries,
  options: OwnTrendOptions = {},
): Result<"own-trend", readonly OwnTrendDay[]> {
  const upTo = options.upTo ?? Number.POSITIVE_INFINITY;
  const rows = series.daily.filter((d) => d.at <= upTo && d.massG > 0);
  const time = rows.map((r) => (r.at - (rows[0]?.at ?? 0)) / dayMs);
  const y = rows.map((r) => Math.log(r.massG));
  const few = rows.length < 5;
  let chosen = { noise: 0.015, levelSd: 0.001, slopeSd: 0.0003 };
  const errors = (noise: number) =>
    rows.map((r) => Math.max(1e-4, Math.hypot(r.errorG / r.massG, noise)));
  if (!few) {
    let best = Number.NEGATIVE_INFINITY;
    for (const noise of extraNoise) {
      for (const levelSd of levelSteps) {
        for (const slopeSd of slopeSteps) {
          const { logLikelihood } = smoothTrend(time, y, errors(noise), { levelSd, slopeSd });
          if (logLikelihood > best) {
            best = logLikelihood;
            chosen = { noise, levelSd, slopeSd };
          }
        }
      }
    }
  }
  const fit = smoothTrend(time, y, errors(chosen.noise), chosen);
  return {
    kind: "own-trend",
    schema: 1,
    value: rows.map((row, j) =>
      dayOf(row, fit.smoothed[j]!, fit.surprises[j] ?? null, rows.length),
    ),
    method: {
      name: "Local level and trend of ln mass, Kalman filter and smoother",
      options: { ...chosen, upTo: options.upTo ?? null, level: 0.95 },
      citations: ["Harvey (1989) Forecasting, Structural Time Series Models and the Kalman Filter"],
    },
    basis: { used: rows.length, leftOut: [], of: "weighed days" },
    diagnostics: { logLikelihood: fit.logLikelihood },
    notices: few
      ? [notice("own-trend-few", "caution", { animal: series.animal.animalId, n: rows.length })]
      : [],
  };
}

function dayOf(
  row: { readonly feedingDay: CivilDate; readonly at: number },
  s: TrendState,
  surprise: number | null,
  n: number,
): OwnTrendDay {
  const massG = Math.exp(s.level);
  const known = n >= 2;
  const around = (value: number, se: number) => ({
    se,
    n,
    interval: normalInterval(value, se),
  });
  // Gain = slope x mass; the error of the slope dominates, that of the mass is added.
  const gainSe = massG * Math.hypot(s.slopeSe, s.slope * s.levelSe);
  const none = notice("own-trend-few", "caution", { n });
  return {
    feedingDay: row.feedingDay,
    at: row.at,
    mass: measured(massG, "g", {
      se: massG * s.levelSe,
      n,
      interval: {
        lower: Math.exp(s.level - normal95 * s.levelSe),
        upper: Math.exp(s.level + normal95 * s.levelSe),
        level: 0.95,
      },
    }),
    relativeGain: known
      ? measured(100 * s.slope, "%/d", around(100 * s.slope, 100 * s.slopeSe))
      : { value: null, unit: "%/d", why: none },
    gain: known
      ? measured(s.slope * massG, "g/d", around(s.slope * massG, gainSe))
      : { value: null, unit: "g/d", why: none },
    surprise,
  };
}
