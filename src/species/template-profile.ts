import { formulaUseBy, veryYoung } from "./nursery-practice.js";
import type { SpeciesProfile } from "./species-profile.js";

/**
 * Stands in for a species without a profile. It holds what is true of any hand
 * feeding and nothing else: what is not known is absent, so that no number of
 * another species (least of all a growth multiplier for dogs or cats, which
 * underfeeds a sea otter) slips in unseen. Fill it in `study.json`.
 */
export const templateProfile: SpeciesProfile = {
  species: "template",
  scientificName: null,
  otherNames: [],
  isTemplate: true,
  birthMass: null,
  lowBirthMass: null,
  adultMass: null,
  bodyTemperature: null,
  plausibleMass: [],
  feedingRhythm: [],
  intake: [],
  feedLimit: null,
  energyDemand: [],
  expectedGain: [],
  solidsStart: null,
  weaning: null,
  postWeaningFast: null,
  formulaUseBy,
  veryYoung,
  overridden: [],
  notices: [],
};
