export type * from "../stats/hypothesis-tests/ratio-set.js";
export type * from "./balance-window.js";
export type * from "./balance-windows.js";
export { balanceWindows } from "./balance-windows.js";
export type * from "./batch-energy.js";
export type * from "./bounds.js";
export type * from "./cohort-conversion.js";
export { cohortConversion } from "./cohort-conversion.js";
export type * from "./conversion-ratio.js";
export type * from "./daily-gains.js";
export { dailyGains } from "./daily-gains.js";
export type * from "./energy-balance.js";
export { energyBalance, expectedGain, maintenanceAt } from "./energy-balance.js";
export type * from "./energy-of.js";
export { energyFactors, energyOf } from "./energy-of.js";
export type * from "./expected-gains.js";
export { expectedGains } from "./expected-gains.js";
export type * from "./feed-conversion.js";
export { feedConversion } from "./feed-conversion.js";
export type * from "./feed-parts.js";
export type * from "./feeding-rhythm.js";
export { feedingRhythm } from "./feeding-rhythm.js";
export type * from "./first-week.js";
export type * from "./gain-adjusted-mass.js";
export { gainAdjustedMass } from "./gain-adjusted-mass.js";
export type * from "./gain-between.js";
export { gainBetween } from "./gain-between.js";
export type * from "./gain-over-window.js";
export { gainOverWindow } from "./gain-over-window.js";
export type * from "./intake-by-day.js";
export { intakeByDay } from "./intake-by-day.js";
export type * from "./intake-by-feed.js";
export { intakeByFeed } from "./intake-by-feed.js";
export type * from "./kept-intake.js";
export type * from "./mass-for-length.js";
export { massForLength } from "./mass-for-length.js";
export type * from "./mean-intake.js";
export { meanIntake } from "./mean-intake.js";
export type * from "./nutrition-formulas.js";
export {
  dryMatterShare,
  fourStepEnergy,
  gramsPer1000Kcal,
  kleiberRatio,
  metabolicSize,
  puppyGrowthEnergy,
  restingEnergy,
} from "./nutrition-formulas.js";
export type * from "./phases-of.js";
export { phaseAt, phasesOf } from "./phases-of.js";
export type * from "./planned-and-eaten.js";
export { plannedAndEaten } from "./planned-and-eaten.js";
export type * from "./post-weaning-fast.js";
export type * from "./resample-conversion.js";
export { resampleConversion } from "./resample-conversion.js";
export type * from "./residual-feed-intake.js";
export { efficiencyRows, residualFeedIntake } from "./residual-feed-intake.js";
export type * from "./rhythm-against-plan.js";
export type * from "./serial-evidence.js";
export { serialEvidence } from "./serial-evidence.js";
export type * from "./serial-slope.js";
export type * from "./test-weighing.js";
export { testWeighings } from "./test-weighing.js";
export type * from "./usable-feeds.js";
