export {
  defaultFlagLimits,
  type FlagDay,
  type FlagLimits,
  type FlagOptions,
  findFlags,
} from "./find-flags.js";
export type { AnimalDay, NotJudged, Signal, SignalClass, SignalKind } from "./flag.js";
export { type LossOptions, lossFromPeak } from "./loss-from-peak.js";
