export { type BalanceOptions, type BalanceWindow, balanceWindows } from "./balance-windows.js";
export type { Bounds } from "./bounds.js";
export { type CohortConversion, cohortConversion } from "./cohort-conversion.js";
export type { ConversionRatio } from "./conversion-ratio.js";
export { type DailyGain, dailyGains } from "./daily-gains.js";
export {
  type AnimalBalance,
  type EnergyBalance,
  energyBalance,
  expectedGain,
  maintenanceAt,
} from "./energy-balance.js";
export {
  type EnergyBasis,
  type EnergyChoice,
  energyFactors,
  energyOf,
  type FoodEnergy,
  impossibleComposition,
} from "./energy-of.js";
export {
  type ExpectedGain,
  type ExpectedGains,
  type ExpectedGainsOptions,
  expectedGains,
} from "./expected-gains.js";
export {
  type ConversionOptions,
  type FeedConversion,
  feedConversion,
  type RatioOnThreeBases,
} from "./feed-conversion.js";
export {
  type FeedingInterval,
  type FeedingRhythm,
  feedingRhythm,
  type OldFormulaFeed,
  type RhythmAtHour,
  type RhythmOptions,
} from "./feeding-rhythm.js";
export {
  type AdjustedMass,
  type AdjustedMassOptions,
  gainAdjustedMass,
} from "./gain-adjusted-mass.js";
export { type GainBetween, gainBetween, type MassAt } from "./gain-between.js";
export { type GainOverWindow, type GainWindowOptions, gainOverWindow } from "./gain-over-window.js";
export {
  defaultHoldLimits,
  type HoldLimits,
  type HoldOptions,
  type HoldReason,
  type HoldRule,
  type HoldState,
  holdRules,
} from "./hold-rules.js";
export { type IntakeDay, type IntakeOptions, intakeByDay } from "./intake-by-day.js";
export { type IntakeFeed, intakeByFeed } from "./intake-by-feed.js";
export { type MassForLength, type MassForLengthRow, massForLength } from "./mass-for-length.js";
export { type MeanIntake, meanIntake } from "./mean-intake.js";
export {
  dryMatterShare,
  type FourStepEnergy,
  fourStepEnergy,
  gramsPer1000Kcal,
  kleiberRatio,
  metabolicSize,
  type ProximateAnalysis,
  puppyGrowthEnergy,
  restingEnergy,
} from "./nutrition-formulas.js";
export {
  type AnimalPhases,
  type Phase,
  type PhaseName,
  type PhaseOptions,
  phaseAt,
  phasesOf,
} from "./phases-of.js";
export { comparablePlan, type PlannedAndEaten, plannedAndEaten } from "./planned-and-eaten.js";
export {
  type ResampleConversionOptions,
  type ResampledConversion,
  resampleConversion,
} from "./resample-conversion.js";
export {
  type AnimalEfficiency,
  type EfficiencyRow,
  efficiencyRows,
  type ResidualEfficiency,
  residualEfficiency,
} from "./residual-efficiency.js";
export type { LateFeed, PlanComparison, ShortDay } from "./rhythm-against-plan.js";
export {
  type SerialEvidence,
  type SerialEvidenceOptions,
  serialEvidence,
} from "./serial-evidence.js";
export type { ErrorsBetweenDays } from "./serial-slope.js";
export { seriesUpTo } from "./series-up-to.js";
export {
  type TestWeighing,
  type TestWeighingOptions,
  type TestWeighings,
  testWeighings,
} from "./test-weighing.js";
