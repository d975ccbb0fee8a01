import type { Interval } from "../../core/measured.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { meanOf } from "../descriptive/describe.js";
import { normalQuantile } from "../distributions/normal.js";
import { studentTTwoSided } from "../distributions/student-t.js";
import { compensatedSum } from "../numeric/compensated-sum.js";
import { midranks } from "./midranks.js";

export interface Correlation {
  readonly r: number | null;
  readonly n: number;
  readonly t: number | null;
  readonly df: number;
  readonly p: number | null;
  /** By Fisher's z; `null` below four pairs. */
  readonly interval: Interval | null;
}

/**
 * Pearson's correlation of pairs of finite numbers, with test and interval.
 *
 * @example pearsonCorrelation([1, 2, 3, 4], [2, 4, 5, 9]).r // 0.964764
 */
export function pearsonCorrelation(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  level = 0.95,
): Correlation {
  const n = requirePairs("pearsonCorrelation", x, y);
  const df = n - 2;
  const r = productMoment(x, y);
  if (r === null || df < 1) return { r, n, t: null, df, p: null, interval: null };
  const t = (r * Math.sqrt(df)) / Math.sqrt((1 - r) * (1 + r));
  const half = normalQuantile((1 + level) / 2) / Math.sqrt(n - 3);
  const interval =
    n > 3
      ? { lower: Math.tanh(Math.atanh(r) - half), upper: Math.tanh(Math.atanh(r) + half), level }
      : null;
  return { r, n, t: Number.isFinite(t) ? t : null, df, p: studentTTwoSided(t, df), interval };
}

/**
 * Spearman's rank correlation: Pearson's of the mid-ranks.
 *
 * @example spearmanCorrelation([1, 2, 3, 4], [1, 3, 2, 4]) // 0.8
 */
export function spearmanCorrelation(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  requirePairs("spearmanCorrelation", x, y);
  return productMoment(midranks(x).ranks, midranks(y).ranks);
}

/**
 * Kendall's tau-b, corrected for ties.
 *
 * @example kendallTau([1, 2, 3, 4], [1, 3, 2, 4]) // 0.666667
 */
export function kendallTau(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  const n = requirePairs("kendallTau", x, y);
  let balance = 0;
  let untiedX = 0;
  let untiedY = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const a = Math.sign(x[i]! - x[j]!);
      const b = Math.sign(y[i]! - y[j]!);
      balance += a * b;
      untiedX += a * a;
      untiedY += b * b;
    }
  }
  return untiedX > 0 && untiedY > 0 ? balance / Math.sqrt(untiedX * untiedY) : null;
}

function productMoment(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  const mx = meanOf(x);
  const my = meanOf(y);
  const a = Array.from(x, (v) => v - mx);
  const b = Array.from(y, (v) => v - my);
  const sxx = compensatedSum(a.map((v) => v * v));
  const syy = compensatedSum(b.map((v) => v * v));
  if (!(sxx > 0 && syy > 0)) return null;
  const r = compensatedSum(a.map((v, i) => v * b[i]!)) / Math.sqrt(sxx * syy);
  return Math.max(-1, Math.min(1, r));
}

function requirePairs(where: string, x: ArrayLike<number>, y: ArrayLike<number>): number {
  requireNumbers(where, "x", x);
  requireNumbers(where, "y", y, x.length);
  if (x.length > 0) return x.length;
  throw new UsageError({
    needed: "pairs of finite numbers",
    came: "none came",
    where,
    todo: "Leave incomplete pairs out, with a count.",
  });
}
