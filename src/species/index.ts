export type * from "./override-profile.js";
export type * from "./plausible-mass.js";
export { knownSpecies, profileOf } from "./profile-of.js";
export type * from "./species-profile.js";
