/** Share of the usual limit below which even a newcomer is named on its first full day. */
const almostNothing = 1 / 6;
/** Least rise from one day to the next that counts as building up, percentage points. */
const leastRise = 3;

/**
 * Is intake too low while it is being built up, in arrival or after a fast? A
 * newcomer that takes a little more each day is what is expected; one that stands
 * still, or takes next to nothing, is not.
 *
 * @example tooLowInBuildUp(30, 28, 60) // true: below 60 %, and not rising from 28 %
 * @example tooLowInBuildUp(40, 28, 60) // false
 */
export function tooLowInBuildUp(share: number, before: number | null, limit: number): boolean {
  if (share >= limit) return false;
  if (share < almostNothing * limit) return true;
  return before !== null && share < before + leastRise;
}
