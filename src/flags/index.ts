export { type CalibrateOptions, calibrateFlags } from "./calibrate-flags.js";
export type { FlagCounts } from "./count-animals.js";
export type {
  Acknowledged,
  Acknowledgement,
  Episode,
  EpisodeSignal,
} from "./episodes.js";
export { type CalibratedSize, type FlagCalibration, thresholdsFor } from "./false-flag-budget.js";
export {
  defaultFlagLimits,
  type FlagDay,
  type FlagLimits,
  type FlagOptions,
  type FoundFlags,
  findFlags,
} from "./find-flags.js";
export type { AnimalDay, NotJudged, Signal, SignalClass, SignalKind } from "./flag.js";
export { measuredRuleRates } from "./measured-rule-rates.js";
export { type MissingGrams, missingGrams } from "./missing-grams.js";
export { type Replay, type ReplayOptions, replayFlags } from "./replay-flags.js";
export { defaultRuleLimits, type RuleLimits } from "./rule-limits.js";
export type { MeasuredRate, MeasuredRuleRates, MeasuredWorld, NamedHealthy } from "./rule-rates.js";
export type { SharedCause, SharedCauseOptions } from "./shared-cause.js";
