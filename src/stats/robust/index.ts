export type * from "./influence-function.js";
export { bisquareInfluence, hampelInfluence, huberInfluence } from "./influence-function.js";
export type * from "./robust-location.js";
export { huberLocation } from "./robust-location.js";
export type * from "./robust-regression.js";
export { robustRegression } from "./robust-regression.js";
export type * from "./theil-sen.js";
export { theilSen } from "./theil-sen.js";
