import type { ScaleCheckRow } from "../../series/animal-series.js";

/**
 * What a scale may be off at a known weight, g: a share of the weight, at least 5 g.
 * Common practice, no source.
 *
 * @example allowedCheckErrorG(2000) // 20
 */
export function allowedCheckErrorG(knownG: number, share = 0.01): number {
  return Math.max(5, share * knownG);
}

/** True where a known-weight check read wrongly by more than that. */
export function isFailedCheck(check: ScaleCheckRow, share?: number): boolean {
  return Math.abs(check.readingG - check.knownG) > allowedCheckErrorG(check.knownG, share);
}
