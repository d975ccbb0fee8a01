import { type Notice, notice } from "../core/notice.js";
import { harbourSeal } from "./harbour-seal.js";
import { type OverrideOutcome, overrideProfile } from "./override-profile.js";
import { seaOtter } from "./sea-otter.js";
import type { SpeciesProfile } from "./species-profile.js";
import { templateProfile } from "./template-profile.js";

const known: readonly SpeciesProfile[] = [seaOtter, harbourSeal];

/** Names of the species that have a profile. @example knownSpecies() // ["sea otter", "harbour seal"] */
export function knownSpecies(): readonly string[] {
  return known.map((p) => p.species);
}

/**
 * The profile of a species, with the user's own entries merged in. A species
 * without a profile gets the template, with a notice; entries that cannot be
 * used are named and ignored. Everything overridden is listed in `overridden`.
 *
 * @param overrides entries by species name, as written in `study.json`
 *   (`StudySettings.speciesOverrides`). A bare number or a pair of numbers may
 *   stand for a whole entry; unit and source are then the profile's unit and
 *   "entered in study.json".
 * @example profileOf("sea otter").birthMass?.range // [1000, 2300]
 * @example profileOf("sea otter", { "sea otter": { bodyTemperature: [37, 38] } }).overridden.length // 1
 */
export function profileOf(
  species: string,
  overrides: Readonly<Record<string, unknown>> = {},
): SpeciesProfile {
  const name = plain(species);
  const own = known.find((p) => p.species === name || p.otherNames.includes(name));
  const base: SpeciesProfile = own ?? { ...templateProfile, species };
  const notices: Notice[] =
    own === undefined
      ? [notice("species-unknown", "caution", { species, known: knownSpecies() })]
      : [];
  const key = Object.keys(overrides).find((k) => {
    const written = plain(k);
    return written === name || written === base.species || base.otherNames.includes(written);
  });
  if (key === undefined) return notices.length === 0 ? base : { ...base, notices };
  const outcome: OverrideOutcome = overrideProfile(base, overrides[key]);
  return {
    ...outcome.profile,
    overridden: outcome.overridden,
    notices: [...notices, ...outcome.notices],
  };
}

function plain(name: string): string {
  return name.trim().toLowerCase().replace(/\s+/g, " ");
}
