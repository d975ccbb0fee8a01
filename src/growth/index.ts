export { type ChooseCurveOptions, type ChosenCurve, chooseCurve } from "./choose-curve.js";
export { type AnimalHistory, historiesFromSeries } from "./cohort/animal-history.js";
export { bootstrapCohort, type CohortBootstrap } from "./cohort/bootstrap-cohort.js";
export {
  type CalibrateCohortOptions,
  type CohortCalibration,
  calibrateCohort,
} from "./cohort/calibrate-cohort.js";
export type {
  CohortAnimal,
  CohortFit,
  CohortFitValue,
  CohortModel,
  CohortParameter,
} from "./cohort/cohort-fit.js";
export { type CohortGains, cohortGains } from "./cohort/cohort-gains.js";
export {
  type CohortMean,
  type CohortMeanCurve,
  type CohortMeanOptions,
  cohortMeanCurve,
} from "./cohort/cohort-mean-curve.js";
export { defaultRandom, type FitCohortOptions, fitCohort } from "./cohort/fit-cohort.js";
export {
  type AnimalPrediction,
  type FollowedAnimal,
  followNewAnimal,
  type NewAnimalPrediction,
  type PredictAnimalOptions,
  type PredictedAnimal,
  predictForCohortAnimal,
  predictForNewAnimal,
} from "./cohort/predict-new-animal.js";
export {
  type ReplayedForecast,
  type ReplayForecastOptions,
  replayForecast,
} from "./cohort/replay-forecast.js";
export { compareFits, type FitComparison, type RankedFit } from "./compare-fits.js";
export { type CurveName, curveByName, curveTitle, growthCurves } from "./curve-catalogue.js";
export { checkGradient, defineCurve, type OwnCurve, type OwnParameter } from "./define-curve.js";
export {
  ageAtMass,
  type DerivedGrowth,
  deriveGrowth,
  maturityAt,
  relativeGainAt,
} from "./derive-growth.js";
export { type DerivedOptions, derivedQuantity } from "./derived-quantity.js";
export { type CurveDescription, describeCurve } from "./describe-curve.js";
export {
  type CurveData,
  type CurveFit,
  type CurveFitValue,
  type FitCurveOptions,
  type FitPoints,
  type FitStatus,
  type FittedParameter,
  fitCurve,
  type SerialErrors,
} from "./fit-curve.js";
export {
  type FitErrors,
  type KnownErrors,
  knownErrors,
  type RelativeWeights,
  relativeWeights,
} from "./fit-errors.js";
export {
  type FitManyOptions,
  type FitSummary,
  fitManyCurves,
  type ManyCurveFits,
  type NamedSeries,
} from "./fit-many-curves.js";
export {
  fitSharedCurve,
  type SharedCurveFit,
  type SharedCurveOptions,
} from "./fit-shared-curve.js";
export type { CurveParameter, GrowthCurve, ParameterKind, StartSeries } from "./growth-curve.js";
export {
  type Prediction,
  type PredictOptions,
  predictGain,
  predictMass,
} from "./predict-growth.js";
export { type ParameterProfile, profileParameter } from "./profile-parameter.js";
export { type ResidualPattern, residualPattern } from "./residual-pattern.js";
