import { notice } from "../core/notice.js";
import { plausibleMass } from "../species/plausible-mass.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { ageInDays } from "../units/calendar.js";
import { type DraftRow, written } from "./draft-row.js";
import type { Rows } from "./rows.js";
import type { StudySettings } from "./study.js";

/** Factors by which a mass is often written wrong: decimal places, g for kg, lb for kg. */
const usualFactors = [10, 0.1, 1000, 0.001, 0.45359237, 1 / 0.45359237];

/**
 * Holds every weighing against two thresholds of its species at its age.
 * Unusual: accepted with a notice, look again. Impossible: set aside - unless a
 * usual slip (decimal place, kilograms, pounds) would explain it; then it is
 * accepted with a notice, and the series keeps it from standing for a day and
 * suggests what was meant. Species without limits are not judged.
 */
export function checkMasses(
  weighings: Rows<DraftRow>,
  animals: Rows<DraftRow>,
  settings: StudySettings,
): void {
  const known = new Map(
    animals.filter((a) => a.fault === null).map((a) => [a.get("animalId") as string, a] as const),
  );
  const profiles = new Map<string, SpeciesProfile>();
  for (const draft of weighings) {
    const animal = known.get(draft.get("animalId") as string);
    const massG = draft.get("massG");
    if (draft.fault !== null || animal === undefined || typeof massG !== "number") continue;
    const species = String(animal.get("species"));
    let profile = profiles.get(species);
    if (profile === undefined) {
      profile = profileOf(species, settings.speciesOverrides);
      profiles.set(species, profile);
    }
    const born = animal.get("birthDateEarliest") as string | null;
    const ageD = born === null ? null : ageInDays(draft.get("at") as number, born, settings.zone);
    const limits = plausibleMass(profile, ageD === null ? null : Math.max(0, ageD));
    if (limits === null) continue;
    const tare = (draft.get("tareG") as number | null) ?? 0;
    const net = massG - tare > 0 ? massG - tare : massG;
    judge(draft, net, limits, species);
  }
}

function judge(
  draft: DraftRow,
  net: number,
  limits: NonNullable<ReturnType<typeof plausibleMass>>,
  species: string,
): void {
  const within = ([low, high]: readonly [number, number], g: number) => g >= low && g <= high;
  if (within(limits.unusual, net)) return;
  const place = {
    file: draft.file,
    table: draft.table,
    line: draft.line,
    column: "mass_g",
    animal: String(draft.get("animalId")),
  };
  const impossible = !within(limits.impossible, net);
  const [low, high] = impossible ? limits.impossible : limits.unusual;
  const parameters = { net, low, high, species };
  if (!impossible) {
    draft.note(notice("records-mass-unusual", "caution", parameters, place));
    return;
  }
  const explained = usualFactors.some((f) => within(limits.unusual, net * f));
  if (explained) draft.note(notice("records-mass-slip-likely", "problem", parameters, place));
  else
    draft.fault = {
      column: "mass_g",
      value: written(draft, "mass_g"),
      reason: notice("records-mass-impossible", "problem", parameters, place),
      suggestion: notice("suggest-check-value", "info", parameters, place),
    };
}
