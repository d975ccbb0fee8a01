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
