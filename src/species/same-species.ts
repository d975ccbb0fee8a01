import { profileOf } from "./profile-of.js";

/**
 * Whether two spellings mean one species: the same word, or two names of one profile.
 *
 * @example isSameSpecies("Sea Otter", "sea otter") // true
 */
export function isSameSpecies(a: string, b: string): boolean {
  const [one, other] = [profileOf(a), profileOf(b)];
  return a.toLowerCase() === b.toLowerCase() || (!one.isTemplate && one.species === other.species);
}
