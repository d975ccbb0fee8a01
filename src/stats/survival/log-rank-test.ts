import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { choleskyFactor, solveCholesky } from "../linear-algebra/cholesky.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { requireSurvivalData, riskTimes, type SurvivalData } from "./survival-data.js";

export interface LogRankTest {
  readonly groups: readonly string[];
  readonly observed: readonly number[];
  readonly expected: readonly number[];
  /** Covariance of observed minus expected. */
  readonly covariance: readonly (readonly number[])[];
  readonly chiSquared: number | null;
  readonly df: number;
  readonly p: number | null;
}

/**
 * Compares survival of groups. rho 0 is the log-rank test, rho 1 weights early
 * events more (Peto-Peto). Source: D. Harrington and T. Fleming (1982).
 *
 * @throws UsageError for rows without a finite time.
 * @example logRankTest({ time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }, ["a", "a", "a", "b", "b", "b"]).chiSquared // 2.46939
 */
export function logRankTest(
  data: SurvivalData,
  group: readonly string[],
  options: { readonly rho?: number; readonly strata?: readonly string[] } = {},
): LogRankTest {
  requireSurvivalData("logRankTest", data);
  const { rho = 0, strata } = options;
  const groups = [...new Set(group)].sort();
  const k = groups.length;
  const observed = new Array<number>(k).fill(0);
  const expected = new Array<number>(k).fill(0);
  const covariance = groups.map(() => new Array<number>(k).fill(0));
  const rows = Array.from({ length: data.time.length }, (_, i) => i);
  const layers =
    strata === undefined
      ? [rows]
      : [...new Set(strata)].map((s) => rows.filter((i) => strata[i] === s));
  for (const layer of layers) {
    const counts = groups.map((g) => {
      const here = riskTimes(
        data,
        layer.filter((i) => group[i] === g),
      );
      return {
        at: riskLookup(
          data,
          layer.filter((i) => group[i] === g),
        ),
        here,
      };
    });
    const events = counts.map(({ here }) => new Map(here.map((r) => [r.time, r.events])));
    let survival = 1;
    for (const { time, atRisk, events: d } of riskTimes(data, layer)) {
      if (d === 0) continue;
      const weight = survival ** rho;
      const risk = counts.map(({ at }) => at(time));
      const spread = atRisk > 1 ? (d * (atRisk - d)) / (atRisk - 1) : 0;
      for (let a = 0; a < k; a++) {
        observed[a]! += weight * (events[a]!.get(time) ?? 0);
        expected[a]! += (weight * d * risk[a]!) / atRisk;
        for (let b = 0; b < k; b++) {
          const share = (risk[a]! / atRisk) * ((a === b ? 1 : 0) - risk[b]! / atRisk);
          covariance[a]![b]! += weight * weight * spread * share;
        }
      }
      survival *= (atRisk - d) / atRisk;
    }
  }
  const used = expected.flatMap((e, a) => (e > 0 ? [a] : [])).slice(1);
  const df = used.length;
  const v = makeMatrix(
    df,
    df,
    used.flatMap((a) => used.map((b) => covariance[a]![b]!)),
  );
  const l = df > 0 ? choleskyFactor(v, 1e-12) : null;
  if (l === null) {
    return { groups, observed, expected, covariance, chiSquared: null, df, p: null };
  }
  const off = used.map((a) => observed[a]! - expected[a]!);
  const solved = solveCholesky(l, off);
  const chiSquared = off.reduce((s, o, i) => s + o * solved[i]!, 0);
  const p = chiSquaredCumulative(chiSquared, df, "upper");
  return { groups, observed, expected, covariance, chiSquared, df, p };
}

/** How many of the rows are at risk at a time. */
function riskLookup(data: SurvivalData, rows: readonly number[]): (t: number) => number {
  const times = Float64Array.from(rows, (i) => data.time[i]!).sort();
  const entries =
    data.entry === undefined ? null : Float64Array.from(rows, (i) => data.entry![i]!).sort();
  /** How many of the sorted values are below t. */
  const below = (sorted: Float64Array, t: number) => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < t) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return (t) => (entries === null ? rows.length : below(entries, t)) - below(times, t);
}
