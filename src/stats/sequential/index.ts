export type * from "./control-chart-constants.js";
export { controlChartConstants } from "./control-chart-constants.js";
export type * from "./cusum.js";
export { cusumChart, cusumLimitFor, cusumRunLength, twoSidedCusumRunLength } from "./cusum.js";
export type * from "./ewma.js";
export { ewmaChart, ewmaRunLength } from "./ewma.js";
export type * from "./increment-law.js";
export { clippedNormalIncrement, normalIncrement } from "./increment-law.js";
export type * from "./run-length-equation.js";
