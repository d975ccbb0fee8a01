export { quantileRegressionErrors } from "./errors.js";
export { quantileRegression } from "./quantile-regression.js";
