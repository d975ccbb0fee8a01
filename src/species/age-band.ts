import type { AgeBand } from "./species-profile.js";

/**
 * The band in which an age lies; with an unknown age, none. Bands stand in
 * order of age.
 *
 * @example bandAt(profile.feedingRhythm, 12)?.everyH.range // [2, 3] for a sea otter of 12 days
 */
export function bandAt<B extends AgeBand>(bands: readonly B[], ageD: number | null): B | null {
  if (ageD === null) return null;
  const found = bands.find((b) => ageD >= b.fromD && (b.toD === null || ageD < b.toD));
  // An age a little below zero comes from a wide birth range: it means the youngest.
  return found ?? (ageD < 0 ? (bands[0] ?? null) : null);
}
