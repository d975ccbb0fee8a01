import type { Interval } from "../../core/measured.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { momentsAbout } from "../descriptive/describe.js";
import { studentTQuantile } from "../distributions/student-t.js";
import { type Alternative, tRatioP } from "./alternative.js";

export interface TTestOptions {
  /** `"welch"` (default) lets the variances differ, `"pooled"` does not, `"paired"` compares pairs. */
  readonly kind?: "welch" | "pooled" | "paired";
  readonly alternative?: Alternative;
  readonly level?: number;
  /** The difference under the null hypothesis. Default 0. */
  readonly difference?: number;
}

export interface TTest {
  readonly kind: "welch" | "pooled" | "paired" | "one-sample";
  /** Mean of x minus mean of y (of the pairs' differences; of x minus the null value's side for one sample). */
  readonly estimate: number;
  readonly se: number;
  readonly t: number | null;
  readonly df: number;
  readonly p: number | null;
  readonly interval: Interval;
}

/**
 * Student's t test of the means of two lists of finite numbers, or of one list
 * (y = null). Nothing varying gives `t` and `p` of `null`.
 *
 * @throws UsageError when a list is too short or pairs do not match.
 * @example tTest([1, 2, 3], [2, 4, 6]).t // -1.5491933384829668
 */
export function tTest(
  x: ArrayLike<number>,
  y: ArrayLike<number> | null,
  options: TTestOptions = {},
): TTest {
  const { kind = "welch", alternative = "two-sided", level = 0.95, difference = 0 } = options;
  requireSample(x, 2);
  if (y === null) return oneSample("one-sample", x, difference, alternative, level);
  requireSample(y, kind === "paired" ? 2 : kind === "pooled" ? 1 : 2);
  if (kind === "paired") {
    requireNumbers("tTest", "the second of each pair", y, x.length);
    const d = Float64Array.from({ length: x.length }, (_, i) => x[i]! - y[i]!);
    return oneSample("paired", d, difference, alternative, level);
  }
  const a = momentsAbout(x);
  const b = momentsAbout(y);
  const estimate = a.mean - b.mean;
  if (kind === "pooled") {
    const df = x.length + y.length - 2;
    const se = Math.sqrt(((a.squares + b.squares) / df) * (1 / x.length + 1 / y.length));
    return finish(kind, estimate, se, df, difference, alternative, level);
  }
  const { se, df } = welchError(a.squares, x.length, b.squares, y.length);
  return finish(kind, estimate, se, df, difference, alternative, level);
}

/** Standard error of a difference of means with unequal variances, and Welch's degrees of freedom. */
export function welchError(
  squaresA: number,
  nA: number,
  squaresB: number,
  nB: number,
): { readonly se: number; readonly df: number } {
  const va = squaresA / (nA - 1) / nA;
  const vb = squaresB / (nB - 1) / nB;
  const df = (va + vb) ** 2 / (va ** 2 / (nA - 1) + vb ** 2 / (nB - 1));
  return { se: Math.sqrt(va + vb), df: Number.isFinite(df) ? df : nA + nB - 2 };
}

function oneSample(
  kind: TTest["kind"],
  x: ArrayLike<number>,
  difference: number,
  alternative: Alternative,
  level: number,
): TTest {
  const { mean, squares } = momentsAbout(x);
  const df = x.length - 1;
  return finish(kind, mean, Math.sqrt(squares / df / x.length), df, difference, alternative, level);
}

function finish(
  kind: TTest["kind"],
  estimate: number,
  se: number,
  df: number,
  difference: number,
  alternative: Alternative,
  level: number,
): TTest {
  const t = se > 0 ? (estimate - difference) / se : null;
  const q = studentTQuantile(alternative === "two-sided" ? (1 + level) / 2 : level, df) * se;
  return {
    kind,
    estimate,
    se,
    t,
    df,
    p: t === null ? null : tRatioP(t, df, alternative),
    interval: {
      lower: alternative === "less" ? null : estimate - q,
      upper: alternative === "greater" ? null : estimate + q,
      level,
    },
  };
}

function requireSample(x: ArrayLike<number>, least: number): void {
  requireNumbers("tTest", "each list", x);
  if (x.length >= least) return;
  throw new UsageError({
    needed: `at least ${least} numbers in each list`,
    came: `${x.length} came`,
    where: "tTest",
    todo: "Leave missing values out, with a count, before comparing.",
  });
}
