export type * from "./animal-series.js";
export { buildSeries, type SeriesOptions } from "./build-series.js";
export { conditionErrors } from "./condition.js";
export { type SmoothedMassOptions, smoothedMassAt } from "./smoothed-mass.js";
