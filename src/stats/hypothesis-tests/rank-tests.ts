import type { Interval } from "../../core/measured.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { quantile } from "../descriptive/quantile.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { normalCumulative } from "../distributions/normal.js";
import {
  rankSumCumulative,
  rankSumQuantile,
  signedRankCumulative,
} from "../distributions/rank-sums.js";
import { type Alternative, twoSided } from "./alternative.js";
import { midranks } from "./midranks.js";
import { requireGroups } from "./one-way-anova.js";

export interface RankTestOptions {
  readonly alternative?: Alternative;
  /** Exact law; default where there are no ties and fewer than 50 values a side. */
  readonly exact?: boolean;
  /** Half a unit taken off the normal approximation. Default true. */
  readonly continuity?: boolean;
  readonly level?: number;
}

export interface RankTest {
  /** Mann-Whitney count of pairs with x above y; signed-rank sum of the positive differences. */
  readonly statistic: number;
  readonly p: number | null;
  readonly exact: boolean;
  readonly ties: boolean;
  /** Hodges-Lehmann estimate of the shift x - y (rank-sum test only) and its exact interval. */
  readonly shift: number | null;
  readonly interval: Interval | null;
}

/**
 * Wilcoxon rank-sum (Mann-Whitney) test of two lists of finite numbers.
 *
 * @example rankSumTest([1, 2], [3, 4]).statistic // 0
 */
export function rankSumTest(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: RankTestOptions = {},
): RankTest {
  requireGroups("rankSumTest", [x, y]);
  const { alternative = "two-sided", continuity = true, level = 0.95 } = options;
  const m = x.length;
  const n = y.length;
  const { ranks, tieTerm } = midranks([...Array.from(x), ...Array.from(y)]);
  let statistic = (-m * (m + 1)) / 2;
  for (let i = 0; i < m; i++) statistic += ranks[i]!;
  const ties = tieTerm > 0;
  const exact = !ties && (options.exact ?? (m < 50 && n < 50));
  const differences = new Float64Array(m * n);
  for (let i = 0; i < m; i++) for (let j = 0; j < n; j++) differences[i * n + j] = x[i]! - y[j]!;
  differences.sort();
  const shift = quantile(differences, 0.5);
  if (exact) {
    const p = exactP(
      rankSumCumulative(statistic, m, n),
      1 - rankSumCumulative(statistic - 1, m, n),
      rankSumCumulative(statistic - 1, m, n, "upper"),
      alternative,
    );
    const k = Math.max(1, rankSumQuantile((1 - level) / 2, m, n));
    const interval = { lower: differences[k - 1]!, upper: differences[m * n - k]!, level };
    return { statistic, p, exact, ties, shift, interval };
  }
  const sd = Math.sqrt(((m * n) / 12) * (m + n + 1 - tieTerm / ((m + n) * (m + n - 1))));
  const p = normalP(statistic - (m * n) / 2, sd, continuity, alternative);
  return { statistic, p, exact, ties, shift, interval: null };
}

/**
 * Wilcoxon signed-rank test of pairs (or, with y = null, of x against 0). Zero
 * differences are left out, as Wilcoxon did.
 *
 * @example signedRankTest([1, 3, 5, 7, 9], null).p // 0.0625
 */
export function signedRankTest(
  x: ArrayLike<number>,
  y: ArrayLike<number> | null,
  options: RankTestOptions = {},
): RankTest {
  const { alternative = "two-sided", continuity = true } = options;
  requireNumbers("signedRankTest", "x", x);
  if (y !== null) requireNumbers("signedRankTest", "the second of each pair", y, x.length);
  const all = Array.from(x, (v, i) => (y === null ? v : v - y[i]!));
  const d = all.filter((v) => v !== 0);
  const n = d.length;
  const { ranks, tieTerm } = midranks(d.map(Math.abs));
  let statistic = 0;
  d.forEach((v, i) => {
    if (v > 0) statistic += ranks[i]!;
  });
  const ties = tieTerm > 0;
  const exact = !ties && n === all.length && (options.exact ?? n < 50);
  const rest = { exact, ties, shift: null, interval: null };
  if (n === 0) return { statistic, p: null, ...rest };
  if (exact) {
    const p = exactP(
      signedRankCumulative(statistic, n),
      1 - signedRankCumulative(statistic - 1, n),
      signedRankCumulative(statistic - 1, n, "upper"),
      alternative,
    );
    return { statistic, p, ...rest };
  }
  const sd = Math.sqrt((n * (n + 1) * (2 * n + 1)) / 24 - tieTerm / 48);
  return {
    statistic,
    p: normalP(statistic - (n * (n + 1)) / 4, sd, continuity, alternative),
    ...rest,
  };
}

/**
 * Kruskal-Wallis test that groups come from one law, corrected for ties.
 *
 * @example kruskalWallisTest([[1, 2, 3], [4, 5, 6]]).p // 0.0495346
 */
export function kruskalWallisTest(groups: readonly ArrayLike<number>[]): {
  readonly chiSquared: number | null;
  readonly df: number;
  readonly p: number | null;
} {
  requireGroups("kruskalWallisTest", groups);
  const { ranks, tieTerm } = midranks(groups.flatMap((g) => Array.from(g)));
  const n = ranks.length;
  const df = groups.length - 1;
  let from = 0;
  let s = 0;
  for (const g of groups) {
    let sum = 0;
    for (let i = 0; i < g.length; i++) sum += ranks[from + i]! - (n + 1) / 2;
    s += (sum * sum) / g.length;
    from += g.length;
  }
  const untied = 1 - tieTerm / (n ** 3 - n);
  if (!(untied > 0)) return { chiSquared: null, df, p: null };
  const chiSquared = ((12 / (n * (n + 1))) * s) / untied;
  return { chiSquared, df, p: chiSquaredCumulative(chiSquared, df, "upper") };
}

function exactP(
  lower: number,
  upperBySubtraction: number,
  upper: number,
  alternative: Alternative,
): number {
  const above = upper > 0 ? upper : upperBySubtraction;
  if (alternative === "less") return lower;
  if (alternative === "greater") return above;
  return twoSided(lower, above);
}

function normalP(
  off: number,
  sd: number,
  continuity: boolean,
  alternative: Alternative,
): number | null {
  if (!(sd > 0)) return null;
  const half = !continuity
    ? 0
    : alternative === "two-sided"
      ? Math.sign(off) * 0.5
      : alternative === "greater"
        ? 0.5
        : -0.5;
  const z = (off - half) / sd;
  if (alternative === "less") return normalCumulative(z);
  if (alternative === "greater") return normalCumulative(z, "upper");
  return twoSided(normalCumulative(z), normalCumulative(z, "upper"));
}
