export {
  type BuildReferenceOptions,
  type BuiltReference,
  buildReference,
  type ReferencePoint,
} from "./build-reference.js";
export {
  checkReference,
  type ReferenceCheck,
  type WormGroup,
  type WormPoint,
} from "./check-reference.js";
export {
  conditionalZ,
  conditionalZGivenAll,
  lowGainLine,
} from "./conditional-z.js";
export {
  type Contemporaries,
  type Contemporary,
  type ContemporaryOptions,
  contemporaries,
} from "./contemporaries.js";
export { type OwnTrendDay, type OwnTrendOptions, ownTrend } from "./own-trend.js";
export { type CohortReferenceOptions, referenceFromCohort } from "./reference-from-cohort.js";
export {
  lmsAtAge,
  makeReferenceTable,
  type ReferenceRow,
  type ReferenceTable,
  type ReferenceZ,
  referenceCurves,
  referenceZ,
} from "./reference-table.js";
export { velocityZ } from "./velocity-z.js";
export { type ContemporaryZ, gainZ, weightForAgeZ } from "./z-scores.js";
