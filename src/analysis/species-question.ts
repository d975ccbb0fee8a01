import { closestName } from "../records/closest-name.js";
import { knownSpecies, profileOf } from "../species/profile-of.js";

/**
 * Whether numbers of a species come with the library, and which species a slip of the pen
 * may have meant.
 *
 * @example speciesQuestion("sea oter") // { isKnown: false, meant: "sea otter" }
 * @example speciesQuestion("harbor seal") // { isKnown: true, meant: null }
 */
export function speciesQuestion(written: string): {
  readonly isKnown: boolean;
  readonly meant: string | null;
} {
  const isKnown = profileOf(written).notices.every((n) => n.code !== "species-unknown");
  const meant = isKnown ? null : closestName(written.trim(), new Set(knownSpecies()));
  return { isKnown, meant };
}
