import { requirePositive, requireProbability, type Tail } from "./tail.js";

/** Density of the exponential law with mean `mean`. @example exponentialDensity(0, 2) // 0.5 */
export function exponentialDensity(x: number, mean = 1): number {
  requirePositive("exponentialDensity", "mean", mean);
  return x < 0 ? 0 : Math.exp(-x / mean) / mean;
}

/** P(X <= x), or P(X > x). @example exponentialCumulative(2, 2) // 0.6321205588285577 */
export function exponentialCumulative(x: number, mean = 1, tail: Tail = "lower"): number {
  requirePositive("exponentialCumulative", "mean", mean);
  const h = Math.max(0, x) / mean;
  return tail === "lower" ? -Math.expm1(-h) : Math.exp(-h);
}

/** The value with a share `p` below it (above it). @example exponentialQuantile(0.5) // 0.6931471805599453 */
export function exponentialQuantile(p: number, mean = 1, tail: Tail = "lower"): number {
  requirePositive("exponentialQuantile", "mean", mean);
  requireProbability("exponentialQuantile", p);
  return mean * (tail === "lower" ? -Math.log1p(-p) : -Math.log(p));
}
