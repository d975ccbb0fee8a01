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
  const n = values.length;
  if (n === 0) return null;
  // Asked for some ten thousand times a day of records: room that is used again, and no sorting.
  if (room.length < n) room = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const value = values[i]!;
    if (Number.isNaN(value)) return middleOfSorted(values);
    room[i] = value;
  }
  return medianInPlace(room, n);
}

/**
 * The same of the first `n` numbers, one or more and each finite, which are moved about.
 *
 * @example medianInPlace(Float64Array.of(4, 1, 3, 2), 3) // 3
 */
export function medianInPlace(values: Float64Array, n: number): number {
  const middle = n >> 1;
  select(values, n, middle);
  if (n % 2 === 1) return values[middle]!;
  let below = values[0]!;
  for (let i = 1; i < middle; i++) if (values[i]! > below) below = values[i]!;
  return (below + values[middle]!) / 2;
}

let room = new Float64Array(64);

/** Where a value is no number, those stand last. */
function middleOfSorted(values: readonly number[]): number {
  const sorted = new Float64Array(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/**
 * Moves numbers until the one of rank `k` stands in its place, none above it before it and
 * none below it behind. Source: Hoare (1961), Algorithm 65: Find.
 */
function select(a: Float64Array, n: number, k: number): void {
  let left = 0;
  let right = n - 1;
  while (left < right) {
    const pivot = a[k]!;
    let i = left;
    let j = right;
    while (i <= j) {
      while (a[i]! < pivot) i++;
      while (pivot < a[j]!) j--;
      if (i > j) break;
      const other = a[i]!;
      a[i] = a[j]!;
      a[j] = other;
      i++;
      j--;
    }
    if (j < k) left = i;
    if (k < i) right = j;
  }
}
