export { autocorrelation } from "./autocorrelation.js";
export { type Description, describe } from "./describe.js";
export { median } from "./median.js";
export { type QuantileType, quantile, quantiles } from "./quantile.js";
export { neighbourCorrelations, whitenRows } from "./serial-correlation.js";
