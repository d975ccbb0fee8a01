import { medianAbsoluteDeviation, medianSorted } from "simple-statistics";
import { listOf } from "../../core/require-numbers.js";
import { compensatedSum } from "../numeric/compensated-sum.js";
import { finiteValues } from "../numeric/finite-values.js";

export interface Description {
  /** Finite values used. */
  readonly n: number;
  /** Values left out because they were missing or not finite. */
  readonly missing: number;
  readonly mean: number | null;
  /** Standard deviation with divisor n - 1; `null` below two values. */
  readonly sd: number | null;
  /** sd / sqrt(n). */
  readonly se: number | null;
  readonly min: number | null;
  readonly median: number | null;
  readonly max: number | null;
  /** Median absolute deviation from the median, unscaled (x 1.4826 estimates a normal sd). */
  readonly mad: number | null;
  /** Adjusted Fisher-Pearson skewness; `null` below three values or without spread. */
  readonly skewness: number | null;
}

/**
 * Describes a list of numbers; missing and non-finite values are left out and
 * counted. The mean is corrected once by the mean of the deviations, and the
 * deviation uses the corrected two-pass form, so constant leading digits do no harm.
 *
 * @example describe([2, 4, 4, 4, 5, 5, 7, 9]).mean // 5
 */
export function describe(values: Iterable<number | null | undefined>): Description {
  const all = listOf("describe", "the values", values);
  const x = finiteValues(all);
  const n = x.length;
  const missing = all.length - n;
  if (n === 0) {
    const nothing = { mean: null, sd: null, se: null, min: null, median: null };
    return { n, missing, ...nothing, max: null, mad: null, skewness: null };
  }
  const { mean, squares } = momentsAbout(x);
  const sd = n > 1 ? Math.sqrt(squares / (n - 1)) : null;
  const sorted = Float64Array.from(x).sort();
  return {
    n,
    missing,
    mean,
    sd,
    se: sd === null ? null : sd / Math.sqrt(n),
    min: sorted[0]!,
    median: medianSorted(Array.from(sorted)),
    max: sorted[n - 1]!,
    mad: medianAbsoluteDeviation(x),
    skewness: skewnessOf(x, mean, squares),
  };
}

/** The mean of finite numbers (at least one), without loss to constant leading digits. */
export function meanOf(x: ArrayLike<number>): number {
  return momentsAbout(x).mean;
}

/** The variance of finite numbers with divisor n - 1 (`NaN` below two). */
export function varianceOf(x: ArrayLike<number>): number {
  return momentsAbout(x).squares / (x.length - 1);
}

/** Mean and sum of squared deviations. */
export function momentsAbout(x: ArrayLike<number>): { mean: number; squares: number } {
  const n = x.length;
  const values = Array.from(x);
  const rough = compensatedSum(values) / n;
  const shift = compensatedSum(values.map((v) => v - rough)) / n;
  const mean = rough + shift;
  const deviations = values.map((v) => v - rough - shift);
  const drift = compensatedSum(deviations);
  return { mean, squares: compensatedSum(deviations.map((d) => d * d)) - (drift * drift) / n };
}

function skewnessOf(x: readonly number[], mean: number, squares: number): number | null {
  const n = x.length;
  if (n < 3 || !(squares > 0)) return null;
  const cubes = compensatedSum(x.map((v) => (v - mean) ** 3));
  const g1 = cubes / n / (squares / n) ** 1.5;
  return (g1 * Math.sqrt(n * (n - 1))) / (n - 2);
}
