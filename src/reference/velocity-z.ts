import { type Lms, lmsZ } from "../stats/lms/lms-z.js";

/**
 * z of a weight increment over a fixed window against a velocity reference:
 * ((increment + delta)/M)^L, standardised as usual. `delta` is the constant the
 * reference added so that every value is positive; L, M and S are those of the
 * shifted increments. `null` where increment + delta is not above zero.
 *
 * Definition: World Health Organization (2009) Growth velocity standards (from memory).
 *
 * @example velocityZ(300, { l: 1, m: 700, s: 0.2 }, 400) // 0
 */
export function velocityZ(increment: number, lms: Lms, delta: number): number | null {
  return lmsZ(increment + delta, lms);
}
