import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { momentsAbout } from "../descriptive/describe.js";
import { fCumulative } from "../distributions/f.js";
import { compensatedSum } from "../numeric/compensated-sum.js";

export interface OneWayAnova {
  readonly groups: readonly {
    readonly n: number;
    readonly mean: number;
    readonly sd: number | null;
  }[];
  /** Sums of squares between and within groups. */
  readonly between: number;
  readonly within: number;
  readonly df1: number;
  readonly df2: number;
  /** `null` when nothing varies within the groups. */
  readonly f: number | null;
  readonly p: number | null;
  readonly r2: number | null;
  /** Pooled standard deviation. */
  readonly residualSd: number;
}

/**
 * One-way analysis of variance of groups of finite numbers (at least two groups,
 * none empty, more values than groups). Sums of squares come from centred values.
 *
 * @throws UsageError when that is not so.
 * @example oneWayAnova([[1, 2, 3], [2, 3, 4], [5, 6, 7]]).f // 13
 */
export function oneWayAnova(groups: readonly ArrayLike<number>[]): OneWayAnova {
  requireGroups("oneWayAnova", groups);
  // Centred at a value of the data, so that constant leading digits drop out exactly.
  const origin = groups[0]![0]!;
  const parts = groups.map((g) => ({
    n: g.length,
    ...momentsAbout(Array.from(g, (v) => v - origin)),
  }));
  const n = parts.reduce((s, g) => s + g.n, 0);
  const mean = compensatedSum(parts.map((g) => g.n * g.mean)) / n;
  const between = compensatedSum(parts.map((g) => g.n * (g.mean - mean) ** 2));
  const within = compensatedSum(parts.map((g) => g.squares));
  const df1 = parts.length - 1;
  const df2 = n - parts.length;
  const f = within > 0 ? between / df1 / (within / df2) : null;
  return {
    groups: parts.map((g) => ({
      n: g.n,
      mean: origin + g.mean,
      sd: g.n > 1 ? Math.sqrt(g.squares / (g.n - 1)) : null,
    })),
    between,
    within,
    df1,
    df2,
    f,
    p: f === null ? null : fCumulative(f, df1, df2, "upper"),
    r2: between + within > 0 ? between / (between + within) : null,
    residualSd: Math.sqrt(within / df2),
  };
}

/** Refuses groups no comparison can be made of. */
export function requireGroups(
  where: string,
  groups: readonly ArrayLike<number>[],
  least = 1,
): void {
  const complain = (came: string): never => {
    throw new UsageError({
      needed: `at least two groups of at least ${least} finite numbers, and more numbers than groups`,
      came,
      where,
      todo: "Leave out empty groups and missing values, with a count, before comparing.",
    });
  };
  if (!Array.isArray(groups)) complain("no list of groups came");
  if (groups.length < 2) complain(`${groups.length} group(s) came`);
  let n = 0;
  groups.forEach((g, i) => {
    requireList(where, `group ${i}`, g);
    n += g.length;
    if (g.length < least) complain(`group ${i} holds ${g.length}`);
    for (let k = 0; k < g.length; k++) {
      if (!Number.isFinite(g[k]!)) complain(`group ${i} holds ${g[k]}`);
    }
  });
  if (n <= groups.length) complain(`${n} numbers in ${groups.length} groups`);
}
