export { type Adjustment, adjustments } from "./adjusted-model.js";
export {
  type CompareSeasonsOptions,
  compareSeasons,
  type SeasonComparison,
} from "./compare-seasons.js";
export type { ComparedSeason } from "./compared-season.js";
export type { CumulativeShare } from "./cumulative-shares.js";
export { type DescribeMilestoneOptions, describeMilestone } from "./describe-milestone.js";
export { describeMilestones, type MilestoneOverview } from "./describe-milestones.js";
export {
  animalsNeeded,
  comparisonPower,
  type DetectableDifference,
  detectableDifference,
  type PowerOptions,
} from "./detectable-difference.js";
export type { AgeWindow, GainWindow, MassWindow } from "./gain-window.js";
export type { MilestoneDescription } from "./milestone-description.js";
export type { MilestoneGroups } from "./milestone-groups.js";
export type { MilestoneModel } from "./milestone-model.js";
export {
  type MilestoneOptions,
  type MilestoneTime,
  type MilestoneTimes,
  milestonesIn,
  milestoneTimes,
} from "./milestone-times.js";
export type { MixedDifference, MixedSeasons } from "./mixed-difference.js";
export type { Equivalence } from "./pair-equivalence.js";
export {
  type ChangedAnimal,
  type ProtocolChange,
  type ProtocolChangeOptions,
  protocolChange,
} from "./protocol-change.js";
export { protocolSeasons } from "./protocol-seasons.js";
export type { ProtocolChangeSeason } from "./protocol-statements.js";
export type { ReachedShare } from "./reached-shares.js";
export type { ResampledDifference } from "./resample-difference.js";
export type { SeasonAnimal, SeasonPhase } from "./season-animal.js";
export type { CurveDifference, SeasonCurve } from "./season-curve.js";
export { type SeasonCurves, type SeasonCurvesOptions, seasonCurves } from "./season-curves.js";
export type { SeasonGain } from "./season-gain.js";
export type { SeasonPair } from "./season-pair.js";
export type { SeasonAgainstPast, SeasonSpread } from "./season-spread.js";
export type { SlopeCheck } from "./slope-check.js";
export type { Spread } from "./spread.js";
export {
  type GroupBy,
  type PhaseSummary,
  type SeasonSummaries,
  type SeasonSummary,
  type SummariseOptions,
  summariseSeasons,
} from "./summarise-seasons.js";
export type { UnadjustedDifference } from "./unadjusted-difference.js";
export { usualWindow } from "./usual-window.js";
