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
export { type CurveName, curveByName, growthCurves } from "./curve-catalogue.js";
export {
  type CurveData,
  type CurveFit,
  type CurveFitValue,
  type FitCurveOptions,
  type FitPoints,
  type FitStatus,
  type FittedParameter,
  fitCurve,
} from "./fit-curve.js";
export {
  type FitErrors,
  type KnownErrors,
  knownErrors,
  type RelativeWeights,
  relativeWeights,
} from "./fit-errors.js";
export type { CurveParameter, GrowthCurve, ParameterKind } from "./growth-curve.js";
export {
  type Prediction,
  type PredictOptions,
  predictGain,
  predictMass,
} from "./predict-growth.js";
