import { requireList, requireNumbers } from "../../core/require-numbers.js";
import { momentsAbout } from "../descriptive/describe.js";
import { madToSd } from "../descriptive/mad-to-sd.js";
import { quantile } from "../descriptive/quantile.js";
import { studentTQuantile } from "../distributions/student-t.js";
import { finiteValues } from "../numeric/finite-values.js";

export interface OutlierStep {
  /** Position in the list given. */
  readonly index: number;
  readonly value: number;
  readonly statistic: number;
  readonly critical: number;
  readonly beyond: boolean;
}

/**
 * Grubbs's test of the value farthest from the mean (normal data, one outlier).
 * `null` below three values or when nothing varies.
 *
 * @example grubbsTest([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57])?.statistic // 2.4687...
 */
export function grubbsTest(
  values: ArrayLike<number>,
  options: { readonly alpha?: number; readonly sides?: "both" | "upper" | "lower" } = {},
): OutlierStep | null {
  const { alpha = 0.05, sides = "both" } = options;
  requireNumbers("grubbsTest", "the values", values);
  const n = values.length;
  if (n < 3) return null;
  const { mean, squares } = momentsAbout(values);
  const sd = Math.sqrt(squares / (n - 1));
  if (!(sd > 0)) return null;
  const distance = (v: number) =>
    sides === "both" ? Math.abs(v - mean) : sides === "upper" ? v - mean : mean - v;
  const index = farthest(values, distance);
  const statistic = distance(values[index]!) / sd;
  const t = studentTQuantile(alpha / (sides === "both" ? 2 * n : n), n - 2, "upper");
  const critical = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  return { index, value: values[index]!, statistic, critical, beyond: statistic > critical };
}

/**
 * Generalised extreme studentised deviate test for up to `most` outliers: the
 * number found is the largest step whose statistic exceeds its critical value, so
 * that outliers cannot hide each other. Source: B. Rosner (1983).
 *
 * @example generalisedEsdTest([1, 2, 1, 2, 1, 2, 1, 9], 2).outliers[0] // 7
 */
export function generalisedEsdTest(
  values: ArrayLike<number>,
  most: number,
  alpha = 0.05,
): { readonly outliers: readonly number[]; readonly steps: readonly OutlierStep[] } {
  requireNumbers("generalisedEsdTest", "the values", values);
  const n = values.length;
  let left = Array.from({ length: n }, (_, i) => i);
  const steps: OutlierStep[] = [];
  for (let i = 1; i <= Math.min(most, n - 3); i++) {
    const { mean, squares } = momentsAbout(left.map((k) => values[k]!));
    const sd = Math.sqrt(squares / (left.length - 1));
    if (!(sd > 0)) break;
    const at = farthest(
      left.map((k) => values[k]!),
      (v) => Math.abs(v - mean),
    );
    const index = left[at]!;
    const statistic = Math.abs(values[index]! - mean) / sd;
    const t = studentTQuantile(alpha / (2 * (n - i + 1)), n - i - 1, "upper");
    const critical = ((n - i) * t) / Math.sqrt((n - i - 1 + t * t) * (n - i + 1));
    steps.push({ index, value: values[index]!, statistic, critical, beyond: statistic > critical });
    left = left.filter((k) => k !== index);
  }
  const found = steps.reduce((last, s, i) => (s.beyond ? i + 1 : last), 0);
  return { outliers: steps.slice(0, found).map((s) => s.index), steps };
}

/**
 * Modified z-scores 0.6745 (x - median) / MAD of the finite values (others give
 * `null`); when more than half of the values are equal the MAD is 0 and every score
 * is `null`: this rule then cannot judge. Source: Iglewicz and Hoaglin (1993), who
 * flag |score| > 3.5.
 *
 * @example modifiedZScores([1, 2, 3, 4, 10])[4] // 4.7215
 */
export function modifiedZScores(values: ArrayLike<number | null>): (number | null)[] {
  requireList("modifiedZScores", "the values", values);
  const finite = finiteValues(Array.from(values));
  const median = quantile(finite, 0.5);
  const mad =
    median === null
      ? null
      : quantile(
          finite.map((v) => Math.abs(v - median)),
          0.5,
        );
  return Array.from(values, (v) =>
    v === null || !Number.isFinite(v) || median === null || mad === null || !(mad > 0)
      ? null
      : (0.6745 * (v - median)) / mad,
  );
}

export interface HampelPoint {
  readonly median: number | null;
  readonly flagged: boolean;
  /** The value, or the window's median where flagged. */
  readonly filtered: number | null;
}

/**
 * Hampel filter: flags a value farther from the median of its window (`reach`
 * values on each side, shorter at the ends) than `threshold` x 1.4826 MAD. A MAD
 * of 0 flags nothing (repeated values are no reason to doubt a neighbour).
 *
 * @example hampelFilter([1, 2, 1, 9, 2, 1, 2])[3].median // 2
 */
export function hampelFilter(
  values: ArrayLike<number | null>,
  options: { readonly reach?: number; readonly threshold?: number } = {},
): HampelPoint[] {
  const { reach = 3, threshold = 3 } = options;
  requireList("hampelFilter", "the values", values);
  const all = Array.from(values);
  return all.map((v, i) => {
    const window = finiteValues(all.slice(Math.max(0, i - reach), i + reach + 1));
    const median = quantile(window, 0.5);
    if (v === null || !Number.isFinite(v) || median === null) {
      return { median, flagged: false, filtered: null };
    }
    const mad = quantile(
      window.map((w) => Math.abs(w - median)),
      0.5,
    )!;
    const flagged = mad > 0 && Math.abs(v - median) > threshold * madToSd * mad;
    return { median, flagged, filtered: flagged ? median : v };
  });
}

function farthest(values: ArrayLike<number>, distance: (v: number) => number): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) {
    if (distance(values[i]!) > distance(values[best]!)) best = i;
  }
  return best;
}
