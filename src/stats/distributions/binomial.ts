import { incompleteBeta } from "../special-functions/incomplete-beta.js";
import { binomialTerm } from "../special-functions/saddle-point-terms.js";
import { smallestCount } from "./smallest-count.js";
import { requireProbability, type Tail } from "./tail.js";

/** P(K = k) of n trials with chance p. @example binomialDensity(2, 4, 0.5) // 0.375 */
export function binomialDensity(k: number, n: number, p: number): number {
  requireProbability("binomialDensity", p);
  if (k < 0 || k > n || !Number.isInteger(k)) return 0;
  return binomialTerm(k, n, p, 1 - p);
}

/** P(K <= k), or P(K > k). @example binomialCumulative(1, 4, 0.5) // 0.3125 */
export function binomialCumulative(k: number, n: number, p: number, tail: Tail = "lower"): number {
  requireProbability("binomialCumulative", p);
  const whole = Math.floor(k);
  if (whole < 0) return tail === "lower" ? 0 : 1;
  if (whole >= n) return tail === "lower" ? 1 : 0;
  const shares = incompleteBeta(whole + 1, n - whole, p);
  return tail === "lower" ? shares.upper : shares.lower;
}

/** The smallest k with P(K <= k) >= p. @example binomialQuantile(0.5, 10, 0.3) // 3 */
export function binomialQuantile(share: number, n: number, p: number): number {
  requireProbability("binomialQuantile", share);
  if (share === 1) return n;
  return smallestCount(share, n * p, n, (k) => binomialCumulative(k, n, p));
}
