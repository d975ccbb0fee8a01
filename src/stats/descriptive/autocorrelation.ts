import { requireList } from "../../core/require-numbers.js";
import { compensatedSum } from "../numeric/compensated-sum.js";
import { meanOf } from "./describe.js";

/**
 * Autocorrelation of an evenly spaced series at `lag` (default 1): the lagged
 * products of the deviations over the sum of their squares. `null` when there are
 * not more values than the lag, a value is not finite, or nothing varies. A series
 * with gaps or uneven steps needs a model of its own.
 *
 * @example autocorrelation([1, 2, 3, 4, 5]) // 0.4
 */
export function autocorrelation(values: ArrayLike<number>, lag = 1): number | null {
  requireList("autocorrelation", "the values", values);
  const x = Array.from(values) as number[];
  if (x.length <= lag || x.some((v) => !Number.isFinite(v))) return null;
  const mean = meanOf(x);
  const d = x.map((v) => v - mean);
  const squares = compensatedSum(d.map((v) => v * v));
  if (!(squares > 0)) return null;
  return compensatedSum(d.slice(lag).map((v, i) => v * d[i]!)) / squares;
}
