export { containmentDf } from "./containment.js";
export {
  type ContrastEstimate,
  type DfMethod,
  estimateContrast,
  likelihoodRatioTest,
  type MixedFTest,
  prepareInference,
  testContrasts,
} from "./contrasts.js";
export type { LinearMixedData, RandomLevel } from "./data.js";
export { buildDesign, type DesignVariables, type FixedDesign } from "./design.js";
export type { ErrorCorrectedData } from "./error-corrected-data.js";
export {
  type ErrorCorrectedRegression,
  errorCorrectedRegression,
} from "./error-corrected-regression.js";
export {
  fitLinearMixed,
  type LinearMixedFit,
  type LinearMixedOptions,
} from "./fit-linear-mixed.js";
export { fitGeneralisedLeastSquares } from "./generalised-least-squares.js";
export type { ResidualStructure } from "./residual.js";
export { splineVariable } from "./spline.js";
export { meanRow, mixedAdjustedMeans, testTerms, varianceExplained } from "./terms.js";
