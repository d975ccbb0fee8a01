import { countOpenings, defaultEpisodeRule, type EpisodeRule } from "../animal-day/episode-rule.js";
import type { WatchedStatistic } from "../watch/watched-day.js";

/** The statistics of one healthy animal on the days on which it was weighed and judged, in order. */
export interface HealthyRun<Name extends string = WatchedStatistic> {
  /** One array per statistic, all of one length; NaN where that one was not judged on the day. */
  readonly statistics: Readonly<Record<Name, Float64Array>>;
  /** Days on which it was judged, those on which a judgement stood included (`daysJudged`). */
  readonly judgedDays: number;
}

export interface BudgetThresholds<Name extends string = WatchedStatistic> {
  readonly thresholds: Readonly<Record<Name, number>>;
  /** Openings per judged week in the runs they were found on. */
  readonly rate: number;
  readonly weeks: number;
  readonly openings: number;
}

/**
 * Finds thresholds for several statistics that together open `perWeek` episodes
 * per healthy judged week. Each statistic gets its share of one common rate
 * (`shares`, sum 1); the common rate is then raised or lowered until the episodes
 * of all together, overlaps counted once, meet the number asked for.
 *
 * @example thresholdsForBudget(runs, { level: 0.9, gain: 0.1 }, 0.01).thresholds // { level: 4.1, gain: 3.3 }
 */
export function thresholdsForBudget<Name extends string>(
  runs: readonly HealthyRun<Name>[],
  shares: Readonly<Record<Name, number>>,
  perWeek: number,
  rule: EpisodeRule = defaultEpisodeRule,
): BudgetThresholds<Name> {
  const weeks = runs.reduce((sum, r) => sum + r.judgedDays, 0) / 7;
  const names = Object.keys(shares) as Name[];
  const tails = names.map((name) => [name, tailOf(runs, name, weeks, rule)] as const);
  const at = (rate: number) =>
    Object.fromEntries(tails.map(([name, tail]) => [name, tail(rate * shares[name])])) as Record<
      Name,
      number
    >;
  const together = (thresholds: Readonly<Record<Name, number>>) =>
    runs.reduce((sum, r) => sum + countOpenings(strongest(r, thresholds), 1, rule), 0);
  let low = Math.log(perWeek / 8);
  let high = Math.log(perWeek * 8);
  for (let i = 0; i < 22; i++) {
    const middle = 0.5 * (low + high);
    if (together(at(Math.exp(middle))) / weeks > perWeek) high = middle;
    else low = middle;
  }
  const thresholds = at(Math.exp(0.5 * (low + high)));
  const openings = together(thresholds);
  return { thresholds, rate: openings / weeks, weeks, openings };
}

/** Largest statistic over threshold on each day; days with nothing judged are left out. */
export function strongest<Name extends string>(
  run: HealthyRun<Name>,
  thresholds: Readonly<Record<Name, number>>,
): Float64Array {
  const out = new Float64Array(weighedDays(run));
  for (const name of Object.keys(thresholds) as Name[]) {
    const values = run.statistics[name];
    const threshold = thresholds[name];
    for (let i = 0; i < out.length; i++) {
      const s = values[i]! / threshold;
      if (s > out[i]!) out[i] = s;
    }
  }
  return out;
}

/** Days on which the animal was weighed and judged. */
function weighedDays<Name extends string>(run: HealthyRun<Name>): number {
  for (const name in run.statistics) return run.statistics[name].length;
  return 0;
}

/**
 * Threshold of one statistic for a rate of openings per week: read from counted
 * openings on a grid, log rate linear in the threshold between, and beyond the
 * highest grid point with at least 8 openings continued along the last stretch.
 */
function tailOf<Name extends string>(
  runs: readonly HealthyRun<Name>[],
  name: Name,
  weeks: number,
  rule: EpisodeRule,
) {
  const clean = runs.map((r) => r.statistics[name].map((v) => (Number.isNaN(v) ? 0 : v)));
  let top = 0;
  for (const r of clean) for (const v of r) if (v > top) top = v;
  const grid: number[] = [];
  const logRates: number[] = [];
  for (let i = 1; i <= 60; i++) {
    const h = (top * i) / 60;
    const openings = clean.reduce((sum, r) => sum + countOpenings(r, h, rule), 0);
    if (openings < 8) break;
    grid.push(h);
    logRates.push(Math.log(openings / weeks));
  }
  // Below its peak the count rises with the threshold (days run together): use the falling part.
  let peak = 0;
  for (let i = 0; i < logRates.length; i++) if (logRates[i]! > logRates[peak]!) peak = i;
  return (rate: number): number => {
    const wanted = Math.log(rate);
    for (let i = peak; i + 1 < grid.length; i++) {
      if (logRates[i + 1]! <= wanted) {
        const drop = logRates[i]! - logRates[i + 1]!;
        const w = drop > 0 ? Math.max(0, (logRates[i]! - wanted) / drop) : 1;
        return grid[i]! + w * (grid[i + 1]! - grid[i]!);
      }
    }
    const last = grid.length - 1;
    if (last < 1) return Math.max(top, 1e-9);
    const back = Math.max(peak, last - 8);
    const slope = (logRates[last]! - logRates[back]!) / Math.max(1e-9, grid[last]! - grid[back]!);
    return slope < 0 ? grid[last]! + (wanted - logRates[last]!) / slope : top;
  };
}
