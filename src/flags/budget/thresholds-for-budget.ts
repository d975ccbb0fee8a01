import { countOpenings, defaultEpisodeRule, type EpisodeRule } from "../animal-day/episode-rule.js";

/** The statistics of one healthy animal on its judged days, in order. */
export interface HealthyRun {
  /** One array per statistic; NaN where that statistic was not judged on the day. */
  readonly statistics: readonly Float64Array[];
}

export interface BudgetThresholds {
  /** One per statistic. */
  readonly thresholds: readonly number[];
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
 * @example thresholdsForBudget(runs, [0.9, 0.1], 0.01).thresholds // [4.1, 3.3]
 */
export function thresholdsForBudget(
  runs: readonly HealthyRun[],
  shares: readonly number[],
  perWeek: number,
  rule: EpisodeRule = defaultEpisodeRule,
): BudgetThresholds {
  const days = runs.reduce((sum, r) => sum + (r.statistics[0]?.length ?? 0), 0);
  const weeks = days / 7;
  const tails = shares.map((_, k) => tailOf(runs, k, weeks, rule));
  const at = (rate: number) => tails.map((tail, k) => tail(rate * shares[k]!));
  const together = (thresholds: readonly number[]) =>
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
export function strongest(run: HealthyRun, thresholds: readonly number[]): Float64Array {
  const n = run.statistics[0]?.length ?? 0;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let most = 0;
    for (let k = 0; k < thresholds.length; k++) {
      const s = run.statistics[k]![i]! / thresholds[k]!;
      if (s > most) most = s;
    }
    out[i] = most;
  }
  return out;
}

/**
 * Threshold of one statistic for a rate of openings per week: read from counted
 * openings on a grid, log rate linear in the threshold between, and beyond the
 * highest grid point with at least 8 openings continued along the last stretch.
 */
function tailOf(runs: readonly HealthyRun[], k: number, weeks: number, rule: EpisodeRule) {
  const clean = runs.map((r) => r.statistics[k]!.map((v) => (Number.isNaN(v) ? 0 : v)));
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
