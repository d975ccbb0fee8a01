import { type Notice, notice } from "../core/notice.js";
import { profileOf } from "../species/profile-of.js";
import type { DraftRow } from "./draft-row.js";
import type { Rows } from "./rows.js";
import type { StudySettings } from "./study.js";

/**
 * What is to be said of the species of a study before any animal is looked at:
 * no profile and no entries of one's own, entries that cannot be used, and entries
 * for a species of which there is no animal.
 */
export function checkProfiles(animals: Rows<DraftRow>, settings: StudySettings): readonly Notice[] {
  const { speciesOverrides } = settings;
  const here = [
    ...new Set(
      animals.flatMap((a) => {
        const species = a.get("species");
        return typeof species === "string" ? [species] : [];
      }),
    ),
  ].sort();
  const place = { file: "study.json" } as const;
  const used = new Set<string>();
  const ofSpecies = here.flatMap((species) => {
    const profile = profileOf(species, speciesOverrides);
    for (const key of Object.keys(speciesOverrides))
      if (profileOf(key).species === profileOf(species).species || sameWords(key, species))
        used.add(key);
    // With entries of one's own a missing profile is no news.
    return profile.notices.filter(
      (n) =>
        n.level === "problem" || (n.code === "species-unknown" && profile.overridden.length === 0),
    );
  });
  const nobody = Object.keys(speciesOverrides).filter((key) => !used.has(key));
  return [
    ...ofSpecies,
    ...(here.length === 0
      ? []
      : nobody.map((species) =>
          notice("species-override-of-nobody", "problem", { species, here }),
        )),
  ].map((n) => ({ ...n, place }));
}

const sameWords = (a: string, b: string) => plain(a) === plain(b);
const plain = (name: string) => name.trim().toLowerCase().replace(/\s+/g, " ");
