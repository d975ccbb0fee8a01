import { requireList } from "../../core/require-numbers.js";

/**
 * The middle of some finite numbers, or the mean of the two middle ones where
 * their number is even; `null` when there is none. Callers leave gaps out first
 * (`finiteValues`).
 *
 * @example median([4, 1, 3, 2]) // 2.5
 */
export function median(values: readonly number[]): number | null {
  requireList("median", "the values", values);
  if (values.length === 0) return null;
  const sorted = new Float64Array(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
