export { type AdjustedMeans, adjustedMeans } from "./adjusted-means.js";
export {
  analyseCovariance,
  type CovarianceAnalysis,
  type SumsOfSquares,
} from "./analysis-of-covariance.js";
export { findMeanShift, fitBrokenLine, fitTwoLines } from "./change-point.js";
export { fitLinearModel, type LinearModel } from "./fit-linear-model.js";
export { fitGeneralisedLinearModel } from "./generalised-linear-model.js";
export { linearModelInfluence } from "./linear-model-influence.js";
export { buildModelDesign, type Term, type Variable } from "./model-design.js";
export { predictLinearModel } from "./predict-linear-model.js";
export { type SerialLine, serialGrid, serialLikelihood, serialLine } from "./serial-line.js";
