import type { Interval } from "../../core/measured.js";
import { momentsAbout } from "../descriptive/describe.js";
import {
  studentizedRangeCumulative,
  studentizedRangeQuantile,
} from "../distributions/studentized-range.js";
import { oneWayAnova, requireGroups } from "./one-way-anova.js";
import { welchError } from "./t-test.js";

export interface PairwiseComparison {
  /** Positions of the two groups; the difference is the later mean minus the earlier. */
  readonly pair: readonly [number, number];
  readonly difference: number;
  /** Studentised range statistic. */
  readonly q: number | null;
  readonly df: number;
  /** Adjusted for all pairs at once. */
  readonly p: number | null;
  readonly interval: Interval;
}

/**
 * All pairwise differences of means under one common variance (Tukey's honest
 * differences; Tukey-Kramer for unequal sizes).
 *
 * @example tukeyComparisons([[1, 2, 3], [2, 3, 4], [5, 6, 7]])[1].difference // 4
 */
export function tukeyComparisons(
  groups: readonly ArrayLike<number>[],
  level = 0.95,
): PairwiseComparison[] {
  const table = oneWayAnova(groups);
  const variance = table.residualSd ** 2;
  const critical = studentizedRangeQuantile(level, groups.length, table.df2);
  return pairsOf(groups.length).map(([i, j]) => {
    const a = table.groups[i]!;
    const b = table.groups[j]!;
    const se = Math.sqrt((variance / 2) * (1 / a.n + 1 / b.n));
    return compare([i, j], b.mean - a.mean, se, table.df2, groups.length, critical, level);
  });
}

/**
 * All pairwise differences of means, variances unequal. Source: P. A. Games and
 * J. F. Howell (1976).
 *
 * @throws UsageError when a group has fewer than two values.
 * @example gamesHowellComparisons([[1, 2, 3], [4, 6, 8], [5, 5, 9]])[0].difference // 4
 */
export function gamesHowellComparisons(
  groups: readonly ArrayLike<number>[],
  level = 0.95,
): PairwiseComparison[] {
  requireGroups("gamesHowellComparisons", groups, 2);
  const parts = groups.map((g) => ({ n: g.length, ...momentsAbout(g) }));
  return pairsOf(groups.length).map(([i, j]) => {
    const a = parts[i]!;
    const b = parts[j]!;
    const { se, df } = welchError(a.squares, a.n, b.squares, b.n);
    const critical = studentizedRangeQuantile(level, groups.length, df);
    return compare([i, j], b.mean - a.mean, se / Math.SQRT2, df, groups.length, critical, level);
  });
}

/** (0,1), (0,2), ..., (1,2), ... */
export function pairsOf(k: number): [number, number][] {
  const out: [number, number][] = [];
  for (let i = 0; i < k; i++) for (let j = i + 1; j < k; j++) out.push([i, j]);
  return out;
}

function compare(
  pair: readonly [number, number],
  difference: number,
  se: number,
  df: number,
  means: number,
  critical: number,
  level: number,
): PairwiseComparison {
  const q = se > 0 ? Math.abs(difference) / se : null;
  return {
    pair,
    difference,
    q,
    df,
    p: q === null ? null : studentizedRangeCumulative(q, means, df, "upper"),
    interval: { lower: difference - critical * se, upper: difference + critical * se, level },
  };
}
