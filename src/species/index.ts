export { bandAt } from "./age-band.js";
export { type PlausibleMass, plausibleMass } from "./plausible-mass.js";
export { knownSpecies, profileOf } from "./profile-of.js";
export { type ProfileRow, profileRows } from "./profile-rows.js";
export type {
  AgeBand,
  EnergyDemandBand,
  ExpectedGainBand,
  FeedingRhythmBand,
  IntakeBand,
  OverriddenEntry,
  PlausibleMassBand,
  SourcedRange,
  SourcedValue,
  SpeciesProfile,
  Sure,
} from "./species-profile.js";
