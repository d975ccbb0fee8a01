import { chiSquaredQuantile } from "../stats/distributions/chi-squared.js";
import { studentTQuantile, studentTTwoSided } from "../stats/distributions/student-t.js";

/**
 * How much seasons differ from one another by themselves: the yardstick for a
 * protocol. A season, not an animal, is one trial of a protocol.
 */
export interface SeasonSpread {
  /** Seasons behind it. */
  readonly n: number;
  /** Standard deviation of true season means, g/d, after the error of each mean; 0 when none shows. */
  readonly betweenSd: number;
  /** Interval of `betweenSd`; null below three seasons. */
  readonly interval: {
    readonly lower: number;
    readonly upper: number;
    readonly level: number;
  } | null;
  /** Standard deviation of the season means as they stand, g/d. */
  readonly observedSd: number;
}

/** A season against earlier ones, the season being the unit. */
export interface SeasonAgainstPast {
  readonly season: string;
  readonly past: readonly string[];
  readonly difference: number;
  readonly df: number;
  readonly p: number;
  /** Where a further ordinary season would lie, g/d, were it drawn like the past ones. */
  readonly expected: { readonly lower: number; readonly upper: number; readonly level: number };
}

/**
 * Spread between seasons from their adjusted means and standard errors, by the
 * method of moments (DerSimonian R, Laird N (1986) Control Clin Trials
 * 7:177-188), with the Q-profile interval (Viechtbauer W (2007) Stat Med
 * 26:37-52). Null below two seasons.
 *
 * @example seasonSpread([40, 44, 41], [2, 2, 2])?.betweenSd // 0.577...
 */
export function seasonSpread(
  means: readonly number[],
  ses: readonly number[],
  level = 0.95,
): SeasonSpread | null {
  const k = means.length;
  if (k < 2 || ses.some((s) => !(s > 0))) return null;
  const q = (tau2: number) => {
    const w = ses.map((s) => 1 / (s * s + tau2));
    const sum = w.reduce((a, b) => a + b, 0);
    const mean = w.reduce((s, wi, i) => s + wi * means[i]!, 0) / sum;
    return w.reduce((s, wi, i) => s + wi * (means[i]! - mean) ** 2, 0);
  };
  const w = ses.map((s) => 1 / (s * s));
  const sw = w.reduce((a, b) => a + b, 0);
  const sw2 = w.reduce((a, b) => a + b * b, 0);
  const tau2 = Math.max(0, (q(0) - (k - 1)) / (sw - sw2 / sw));
  const plain = means.reduce((a, b) => a + b, 0) / k;
  const observedSd = Math.sqrt(means.reduce((s, m) => s + (m - plain) ** 2, 0) / (k - 1));
  const tail = (1 - level) / 2;
  const bound = (p: number) => Math.sqrt(solveFalling(q, chiSquaredQuantile(p, k - 1)));
  return {
    n: k,
    betweenSd: Math.sqrt(tau2),
    interval: k < 3 ? null : { lower: bound(1 - tail), upper: bound(tail), level },
    observedSd,
  };
}

/** A season's adjusted mean and its standard error, g/d. */
export interface SeasonMean {
  readonly name: string;
  readonly mean: number;
  readonly se: number;
}

/**
 * One season's adjusted mean against the earlier ones, each season counting
 * once: t with (number of earlier seasons - 1) degrees of freedom. Two or three
 * seasons may happen to agree more closely than their own errors allow; the
 * spread is therefore never taken smaller than the error of their means, nor
 * the season's own error smaller than it is. That makes the answer cautious (one
 * season against three, nothing different: it errs in 0.05 % of simulations
 * without any spread between seasons, in 1.8 % with a spread like the animals').
 * Null below two earlier seasons: a protocol that changed with the only other
 * season cannot be told from that season.
 *
 * The floor follows Röver C, Knapp G, Friede T (2015) BMC Med Res Methodol 15:99.
 *
 * @example seasonAgainstPast({ name: "d", mean: 52, se: 1 }, past)?.p
 */
export function seasonAgainstPast(
  season: SeasonMean,
  past: readonly SeasonMean[],
  level = 0.95,
): SeasonAgainstPast | null {
  const k = past.length;
  if (k < 2) return null;
  const average = (read: (x: SeasonMean) => number) => past.reduce((s, x) => s + read(x), 0) / k;
  const mean = average((x) => x.mean);
  const observed = past.reduce((s, x) => s + (x.mean - mean) ** 2, 0) / (k - 1);
  const error = average((x) => x.se ** 2);
  const spread = Math.max(observed, error);
  const width = Math.sqrt(spread * (1 + 1 / k) + Math.max(0, season.se ** 2 - error));
  if (!(width > 0)) return null;
  const t = studentTQuantile(1 - (1 - level) / 2, k - 1);
  return {
    season: season.name,
    past: past.map((x) => x.name),
    difference: season.mean - mean,
    df: k - 1,
    p: studentTTwoSided((season.mean - mean) / width, k - 1),
    expected: { lower: mean - t * width, upper: mean + t * width, level },
  };
}

/** Root of a falling function of tau2 >= 0; 0 when it starts below the target. */
function solveFalling(f: (x: number) => number, target: number): number {
  if (f(0) <= target) return 0;
  let high = 1;
  while (f(high) > target && high < 1e18) high *= 2;
  let low = 0;
  for (let i = 0; i < 200 && high - low > 1e-14 * high; i++) {
    const middle = (low + high) / 2;
    if (f(middle) > target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
