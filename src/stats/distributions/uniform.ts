import { requireProbability, type Tail } from "./tail.js";

/** Density of the uniform law on [low, high]. @example uniformDensity(1, 0, 4) // 0.25 */
export function uniformDensity(x: number, low = 0, high = 1): number {
  return x < low || x > high ? 0 : 1 / (high - low);
}

/** P(X <= x), or P(X > x). @example uniformCumulative(1, 0, 4) // 0.25 */
export function uniformCumulative(x: number, low = 0, high = 1, tail: Tail = "lower"): number {
  const share = tail === "lower" ? (x - low) / (high - low) : (high - x) / (high - low);
  return Math.min(1, Math.max(0, share));
}

/** The value with a share `p` below it (above it). @example uniformQuantile(0.25, 0, 4) // 1 */
export function uniformQuantile(p: number, low = 0, high = 1, tail: Tail = "lower"): number {
  requireProbability("uniformQuantile", p);
  return tail === "lower" ? low + p * (high - low) : high - p * (high - low);
}
