import type { Interval } from "../core/measured.js";
import { hedgesG } from "../stats/hypothesis-tests/effect-size.js";
import { tTest } from "../stats/hypothesis-tests/t-test.js";

/** The plain difference of two groups, second minus first, without any adjustment. */
export interface UnadjustedDifference {
  readonly difference: number;
  readonly se: number;
  readonly df: number;
  readonly p: number;
  readonly interval: Interval;
  /** Hedges' g: the difference in standard deviations, made unbiased for small groups. */
  readonly hedgesG: number | null;
  readonly hedgesInterval: Interval | null;
}

/**
 * Welch's t (spreads may differ) and Hedges' g with its interval. Null where a
 * group has fewer than two values or nothing varies.
 *
 * @example unadjustedDifference([1, 2, 3], [3, 4, 5])?.difference // 2
 */
export function unadjustedDifference(
  first: readonly number[],
  second: readonly number[],
  level = 0.95,
): UnadjustedDifference | null {
  if (first.length < 2 || second.length < 2) return null;
  const welch = tTest(second, first, { level });
  // A spread too small to be squared without loss counts as none.
  if (welch.p === null || !(welch.se > 1e-150)) return null;
  // Where groups hardly overlap the interval of g would say nothing more, at some cost.
  const g = Math.abs(welch.t ?? 0) > 200 ? null : hedgesG(second, first, level);
  return {
    difference: welch.estimate,
    se: welch.se,
    df: welch.df,
    p: welch.p,
    interval: welch.interval,
    hedgesG: g?.g ?? null,
    hedgesInterval: g?.interval ?? null,
  };
}
