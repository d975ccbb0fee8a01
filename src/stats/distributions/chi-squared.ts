import { gammaCumulative, gammaDensity, gammaQuantile } from "./gamma.js";
import type { Tail } from "./tail.js";

/**
 * Density of chi-squared with `df` degrees of freedom.
 *
 * @example chiSquaredDensity(2, 2) // 0.18394
 */
export function chiSquaredDensity(x: number, df: number): number {
  return gammaDensity(x, df / 2, 2);
}

/** P(X <= x), or P(X > x). @example chiSquaredCumulative(3.841458820694124, 1) // 0.95 */
export function chiSquaredCumulative(x: number, df: number, tail: Tail = "lower"): number {
  return gammaCumulative(x, df / 2, 2, tail);
}

/** The value with a share `p` below it (above it). @example chiSquaredQuantile(0.95, 1) // 3.841458820694124 */
export function chiSquaredQuantile(p: number, df: number, tail: Tail = "lower"): number {
  return gammaQuantile(p, df / 2, 2, tail);
}
