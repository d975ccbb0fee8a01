export type * from "./blocks.js";
export type * from "./components.js";
export type * from "./containment.js";
export { containmentDf } from "./containment.js";
export type * from "./contrasts.js";
export {
  estimateContrast,
  likelihoodRatioTest,
  prepareInference,
  testContrasts,
} from "./contrasts.js";
export type * from "./covariance.js";
export { crossedLevel } from "./crossed-level.js";
export type * from "./data.js";
export type * from "./engine.js";
export type * from "./errors-in-variables-data.js";
export type * from "./errors-in-variables-moments.js";
export type * from "./errors-in-variables-regression.js";
export { errorsInVariablesRegression } from "./errors-in-variables-regression.js";
export type * from "./fit.js";
export type * from "./fit-linear-mixed.js";
export { fitLinearMixed } from "./fit-linear-mixed.js";
export { fitGeneralisedLeastSquares } from "./generalised-least-squares.js";
export type * from "./kenward-roger.js";
export type * from "./objective.js";
export type * from "./profile.js";
export type * from "./residual.js";
export type * from "./satterthwaite.js";
export { splineVariable } from "./spline.js";
export type * from "./summarise-mixed.js";
export { summariseMixed } from "./summarise-mixed.js";
export type * from "./terms.js";
export { mixedAdjustedMeans, testTerms, varianceExplained } from "./terms.js";
