export type * from "./slope-change.js";
export { slopeChange } from "./slope-change.js";
export type * from "./slope-mixture.js";
export { MixedSeries, SlopeMixture } from "./slope-mixture.js";
export type * from "./trend.js";
export { smoothTrend } from "./trend.js";
export type * from "./wandering-slope.js";
