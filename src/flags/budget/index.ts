export { type CalibrateOptions, calibrateFlags } from "./calibrate-flags.js";
export { type CalibratedSize, type FlagCalibration, thresholdsFor } from "./false-flag-budget.js";
export { measuredRuleRates } from "./measured-rule-rates.js";
export type { MeasuredRate, MeasuredRuleRates, MeasuredWorld, NamedHealthy } from "./rule-rates.js";
