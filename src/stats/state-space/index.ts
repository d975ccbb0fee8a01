export type * from "./forecast.js";
export type * from "./group.js";
export type * from "./group-fit.js";
export type * from "./trend.js";
export { smoothTrend } from "./trend.js";
