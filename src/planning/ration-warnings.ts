import { type Notice, notice } from "../core/notice.js";
import { restingEnergy } from "../rates/nutrition-formulas.js";
import { bandAt } from "../species/age-band.js";
import { plausibleMass } from "../species/plausible-mass.js";
import type { SpeciesProfile } from "../species/species-profile.js";

/** Warns when the energy falls below the profile's demand for the age. */
export function warnBelowDemand(
  kcal: number | null,
  massKg: number,
  ageD: number | null,
  profile: SpeciesProfile,
  animal: string,
  notices: Notice[],
): void {
  const band = bandAt(profile.energyDemand, ageD);
  if (band === null || kcal === null) return;
  const demand = band.timesResting.range[0] * restingEnergy(massKg);
  // Whole grams of two diets may miss the figure by a hair.
  if (kcal < 0.995 * demand) {
    const source = band.timesResting.source;
    notices.push(notice("ration-below-demand", "caution", { animal, kcal, demand, source }));
  }
}

/** Says that the mass a suggestion rests on is unusual for the species at that age. */
export function warnImplausibleMass(
  massG: number,
  ageD: number | null,
  profile: SpeciesProfile,
  animal: string,
  notices: Notice[],
): void {
  const limits = plausibleMass(profile, ageD === null ? null : Math.max(0, ageD));
  if (limits === null || (massG >= limits.unusual[0] && massG <= limits.unusual[1])) return;
  const [low, high] = limits.unusual;
  const { species } = profile;
  notices.push(
    notice("ration-mass-implausible", "problem", { animal, mass: massG, low, high, species }),
  );
}

/** Warns when the share of body mass is far from what the profile gives. */
export function warnOutsideShare(
  pct: number,
  ageD: number | null,
  profile: SpeciesProfile,
  animal: string,
  notices: Notice[],
): void {
  const range = bandAt(profile.intake, ageD)?.share.range;
  if (range === undefined) return;
  // A fifth beyond the range: single figures of a few nurseries are no exact limits.
  if (pct > 1.2 * range[1] || pct < 0.8 * range[0]) {
    notices.push(
      notice("ration-outside-usual", "caution", { animal, pct, low: range[0], high: range[1] }),
    );
  }
}
