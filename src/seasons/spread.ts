import { median } from "../stats/descriptive/median.js";

/**
 * Some numbers at a glance: never a mean without its n and its spread. `missing`
 * counts the members of the group for which the number could not be had.
 */
export interface Spread {
  readonly unit: string;
  readonly n: number;
  readonly missing: number;
  readonly mean: number | null;
  /** Standard deviation with n - 1; null below two values. */
  readonly sd: number | null;
  readonly median: number | null;
  readonly smallest: number | null;
  readonly largest: number | null;
}

/**
 * Sums up the values that are there. An empty group has n 0 and nulls.
 *
 * @example spreadOf([61, 58, null], "g/d") // { n: 2, missing: 1, mean: 59.5, sd: 2.1213..., ... }
 */
export function spreadOf(values: readonly (number | null)[], unit: string): Spread {
  const xs = values
    .filter((x): x is number => x !== null && Number.isFinite(x))
    .sort((a, b) => a - b);
  const n = xs.length;
  const missing = values.length - n;
  if (n === 0)
    return { unit, n, missing, mean: null, sd: null, median: null, smallest: null, largest: null };
  const mean = xs.reduce((a, b) => a + b, 0) / n;
  const sd = n < 2 ? null : Math.sqrt(xs.reduce((s, x) => s + (x - mean) ** 2, 0) / (n - 1));
  return { unit, n, missing, mean, sd, median: median(xs), smallest: xs[0]!, largest: xs[n - 1]! };
}
