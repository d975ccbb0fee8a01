export type * from "./errors.js";
export { quantileRegressionErrors } from "./errors.js";
export type * from "./quantile-regression.js";
export { quantileRegression } from "./quantile-regression.js";
