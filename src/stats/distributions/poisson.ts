import { incompleteGamma } from "../special-functions/incomplete-gamma.js";
import { poissonTerm } from "../special-functions/saddle-point-terms.js";
import { smallestCount } from "./smallest-count.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

/** P(K = k) of a Poisson count with mean m. @example poissonDensity(3, 2) // 0.1804470443154836 */
export function poissonDensity(k: number, m: number): number {
  requirePositive("poissonDensity", "mean", m);
  return k < 0 || !Number.isInteger(k) ? 0 : poissonTerm(k, m);
}

/** P(K <= k), or P(K > k). @example poissonCumulative(0, 1) // 0.36787944117144233 */
export function poissonCumulative(k: number, m: number, tail: Tail = "lower"): number {
  requirePositive("poissonCumulative", "mean", m);
  const whole = Math.floor(k);
  if (whole < 0) return tail === "lower" ? 0 : 1;
  const shares = incompleteGamma(whole + 1, m);
  return tail === "lower" ? shares.upper : shares.lower;
}

/** The smallest k with P(K <= k) >= p. @example poissonQuantile(0.5, 4) // 4 */
export function poissonQuantile(share: number, m: number): number {
  requireProbability("poissonQuantile", share);
  if (share === 1) return Number.POSITIVE_INFINITY;
  return smallestCount(share, m, Number.POSITIVE_INFINITY, (k) => poissonCumulative(k, m));
}
