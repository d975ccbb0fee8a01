import type { Interval } from "../../core/measured.js";
import { momentsAbout } from "../descriptive/describe.js";
import { quantile } from "../descriptive/quantile.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { fCumulative, fQuantile } from "../distributions/f.js";
import { twoSided } from "./alternative.js";
import { type OneWayAnova, oneWayAnova, requireGroups } from "./one-way-anova.js";

export interface VarianceRatioTest {
  readonly ratio: number | null;
  readonly df1: number;
  readonly df2: number;
  readonly p: number | null;
  readonly interval: Interval;
}

/**
 * F test of two variances (normal data; not robust). Two-sided.
 *
 * @example varianceRatioTest([2, 5, 8], [1, 2, 3]).ratio // 9
 */
export function varianceRatioTest(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  level = 0.95,
): VarianceRatioTest {
  requireGroups("varianceRatioTest", [x, y], 2);
  const df1 = x.length - 1;
  const df2 = y.length - 1;
  const ratio = momentsAbout(x).squares / df1 / (momentsAbout(y).squares / df2);
  if (!Number.isFinite(ratio)) {
    return { ratio: null, df1, df2, p: null, interval: { lower: null, upper: null, level } };
  }
  return {
    ratio,
    df1,
    df2,
    p: twoSided(fCumulative(ratio, df1, df2), fCumulative(ratio, df1, df2, "upper")),
    interval: {
      lower: ratio / fQuantile((1 - level) / 2, df1, df2, "upper"),
      upper: ratio / fQuantile((1 - level) / 2, df1, df2),
      level,
    },
  };
}

/**
 * Bartlett's test that variances are equal (sensitive to non-normal data).
 *
 * @example bartlettTest([[1, 2, 3], [2, 5, 8]]).p // 0.201062
 */
export function bartlettTest(groups: readonly ArrayLike<number>[]): {
  readonly chiSquared: number | null;
  readonly df: number;
  readonly p: number | null;
} {
  requireGroups("bartlettTest", groups, 2);
  const parts = groups.map((g) => ({ df: g.length - 1, squares: momentsAbout(g).squares }));
  const total = parts.reduce((s, g) => s + g.df, 0);
  const pooled = parts.reduce((s, g) => s + g.squares, 0) / total;
  const logs = parts.reduce((s, g) => s + g.df * Math.log(g.squares / g.df), 0);
  const correction =
    1 + (parts.reduce((s, g) => s + 1 / g.df, 0) - 1 / total) / (3 * (parts.length - 1));
  const value = (total * Math.log(pooled) - logs) / correction;
  const df = groups.length - 1;
  if (!Number.isFinite(value)) return { chiSquared: null, df, p: null };
  return { chiSquared: value, df, p: chiSquaredCumulative(value, df, "upper") };
}

/**
 * Levene's test that spreads are equal: an analysis of variance of the distances
 * from each group's centre. `"median"` (default) is the Brown-Forsythe form.
 *
 * @example leveneTest([[1, 2, 3], [2, 5, 8]]).f // 1.6
 */
export function leveneTest(
  groups: readonly ArrayLike<number>[],
  centre: "median" | "mean" = "median",
): OneWayAnova {
  requireGroups("leveneTest", groups, 1);
  return oneWayAnova(
    groups.map((g) => {
      const values = Array.from(g);
      const c = centre === "median" ? quantile(values, 0.5)! : momentsAbout(values).mean;
      return values.map((v) => Math.abs(v - c));
    }),
  );
}
