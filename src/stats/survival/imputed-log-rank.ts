import { type Random, seededRandom } from "../../core/random.js";
import { UsageError } from "../../core/usage-error.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { choleskyFactor, solveLowerTriangular } from "../linear-algebra/cholesky.js";
import { matrixFromRows } from "../linear-algebra/matrix.js";
import { type CensoredTime, requireCensoredTimes } from "./censored-time.js";
import { logRankTest } from "./log-rank-test.js";
import { turnbull } from "./turnbull.js";
import { canHold } from "./turnbull-candidates.js";

export interface ImputedLogRank {
  readonly groups: readonly string[];
  /** Observed less expected events in each group, mean over the imputations. */
  readonly sums: readonly number[];
  readonly chiSquared: number | null;
  readonly df: number;
  /** Null where nothing varies: the looks allow one order of times as well as any other. */
  readonly p: number | null;
  readonly imputations: number;
  readonly seed: number;
  /** Whether the pooled curve from which times are drawn reached its maximum. */
  readonly converged: boolean;
}

/**
 * Log-rank test of groups whose times are known only to lie between two looks
 * and whose units may have entered late. Each time is drawn many times from the
 * pooled curve between its looks; each draw is an ordinary log-rank test with
 * delayed entry; their mean is tested with the mean of their variances less the
 * variance between draws, because a mean over what is not known varies less
 * than what is.
 *
 * Unlike the test from scores ({@link intervalLogRank}) it asks for no likeness
 * of entries between the groups, which that test's reordering needs.
 *
 * Huang J, Lee C, Yu Q (2008) Stat Med 27:3217-3226.
 *
 * @throws UsageError for a group label too few or times that cannot have been observed.
 * @example
 * const times = [1, 2, 3, 4, 5, 6, 7, 8].map((by) => ({ after: by - 1, by }));
 * imputedLogRank(times, ["a", "a", "a", "a", "b", "b", "b", "b"], { seed: 1 }).p // 0.00672717
 */
export function imputedLogRank(
  times: readonly CensoredTime[],
  group: readonly string[],
  options: { readonly imputations?: number; readonly seed?: number } = {},
): ImputedLogRank {
  requireCensoredTimes("imputedLogRank", times);
  if (group.length !== times.length)
    throw new UsageError({
      needed: "one group for each time",
      came: `${times.length} times, ${group.length} groups`,
      where: "imputedLogRank",
      todo: "Leave out times without a group, with a count.",
    });
  const imputations = options.imputations ?? 200;
  const seed = options.seed ?? 1;
  const fit = turnbull(times);
  const groups = [...new Set(group)].sort();
  const random = seededRandom(seed);
  const draw = drawsBetweenLooks(times, group, fit.steps);
  const tests = Array.from({ length: imputations }, () => {
    const { data, of } = draw(random);
    const test = logRankTest(data, of);
    const at = (g: string) => test.groups.indexOf(g);
    return {
      sums: groups.map((g) => (at(g) < 0 ? 0 : test.observed[at(g)]! - test.expected[at(g)]!)),
      covariance: groups.map((g) => groups.map((h) => test.covariance[at(g)]?.[at(h)] ?? 0)),
    };
  });
  const sums = groups.map((_, g) => mean(tests.map((t) => t.sums[g]!)));
  const covariance = groups.map((_, g) =>
    groups.map((_, h) => {
      const within = mean(tests.map((t) => t.covariance[g]![h]!));
      const between =
        tests.reduce((s, t) => s + (t.sums[g]! - sums[g]!) * (t.sums[h]! - sums[h]!), 0) /
        Math.max(1, imputations - 1);
      return within - (1 - 1 / imputations) * between;
    }),
  );
  const df = groups.length - 1;
  const factor =
    df < 1
      ? null
      : choleskyFactor(matrixFromRows(covariance.slice(1).map((row) => row.slice(1))), 1e-12);
  const chiSquared =
    factor === null
      ? null
      : solveLowerTriangular(factor, sums.slice(1)).reduce((s, x) => s + x * x, 0);
  return {
    groups,
    sums,
    chiSquared,
    df,
    p: chiSquared === null ? null : chiSquaredCumulative(chiSquared, df, "upper"),
    imputations,
    seed,
    converged: fit.converged,
  };
}

/** Draws a full data set: each time seen stands at the end of a step that can hold it. */
function drawsBetweenLooks(
  times: readonly CensoredTime[],
  group: readonly string[],
  steps: readonly { readonly from: number; readonly to: number | null; readonly mass: number }[],
) {
  const finite = steps.flatMap((s) => (s.to === null ? [] : [{ ...s, to: s.to }]));
  // Who was never looked at after entry says nothing.
  const rows = times.flatMap((t, i) => {
    const entered = t.entered ?? Math.min(0, t.after) - 1;
    if (t.by === null) return t.after > entered ? [{ t, i, entered, can: [] }] : [];
    const can = finite.filter((s) => canHold(s, t));
    return [{ t, i, entered, can }];
  });
  const of = rows.map(({ i }) => group[i]!);
  const entry = rows.map(({ entered }) => entered);
  const event = rows.map(({ t }) => t.by !== null);
  return (random: Random) => ({
    data: {
      time: rows.map(({ t, can }) => (t.by === null ? t.after : chosen(can, t.by, random))),
      event,
      entry,
    },
    of,
  });
}

function chosen(
  can: readonly { readonly to: number; readonly mass: number }[],
  by: number,
  random: Random,
): number {
  let left = random.uniform() * can.reduce((s, c) => s + c.mass, 0);
  for (const c of can) {
    left -= c.mass;
    if (left <= 0) return c.to;
  }
  return can.at(-1)?.to ?? by;
}

function mean(xs: readonly number[]): number {
  return xs.reduce((s, x) => s + x, 0) / xs.length;
}
