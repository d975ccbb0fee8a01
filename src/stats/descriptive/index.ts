export { autocorrelation } from "./autocorrelation.js";
export type * from "./describe.js";
export { describe } from "./describe.js";
export type * from "./group-z.js";
export { median } from "./median.js";
export type * from "./quantile.js";
export { quantile, quantiles } from "./quantile.js";
export { neighbourCorrelations, whitenRows } from "./serial-correlation.js";
