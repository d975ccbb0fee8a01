import { momentsAbout } from "../descriptive/describe.js";
import { fCumulative } from "../distributions/f.js";
import { requireGroups } from "./one-way-anova.js";

export interface WelchAnova {
  readonly f: number | null;
  readonly df1: number;
  readonly df2: number | null;
  readonly p: number | null;
}

/**
 * Welch's analysis of variance: means of groups whose variances differ. `null`
 * when a group does not vary. Source: B. L. Welch (1951).
 *
 * @throws UsageError when a group has fewer than two values.
 * @example welchAnova([[1, 2, 3], [4, 6, 8], [5, 5, 9]]).f // 6.59163
 */
export function welchAnova(groups: readonly ArrayLike<number>[]): WelchAnova {
  requireGroups("welchAnova", groups, 2);
  const k = groups.length;
  const parts = groups.map((g) => {
    const { mean, squares } = momentsAbout(g);
    return { n: g.length, mean, weight: (g.length * (g.length - 1)) / squares };
  });
  if (parts.some((g) => !Number.isFinite(g.weight)))
    return { f: null, df1: k - 1, df2: null, p: null };
  const total = parts.reduce((s, g) => s + g.weight, 0);
  const mean = parts.reduce((s, g) => s + g.weight * g.mean, 0) / total;
  const lack = parts.reduce((s, g) => s + (1 - g.weight / total) ** 2 / (g.n - 1), 0) / (k * k - 1);
  const between = parts.reduce((s, g) => s + g.weight * (g.mean - mean) ** 2, 0) / (k - 1);
  const f = between / (1 + 2 * (k - 2) * lack);
  const df2 = 1 / (3 * lack);
  return { f, df1: k - 1, df2, p: fCumulative(f, k - 1, df2, "upper") };
}
