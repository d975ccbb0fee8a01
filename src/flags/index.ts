export type {
  Acknowledged,
  Acknowledgement,
  Episode,
  EpisodeSignal,
} from "./animal-day/episode.js";
export * from "./animal-day/index.js";
export * from "./budget/index.js";
export type { FlagCounts } from "./count-animals.js";
export {
  defaultFlagLimits,
  type FlagDay,
  type FlagLimits,
  type FlagOptions,
  type FoundFlags,
  findFlags,
} from "./find-flags.js";
export { type MissingGrams, missingGrams } from "./missing-grams.js";
export { type Replay, type ReplayOptions, replayFlags } from "./replay-flags.js";
export * from "./rules/index.js";
export type { SharedCause, SharedCauseOptions } from "./shared-cause.js";
