export { controlChartConstants } from "./control-chart-constants.js";
export {
  cusumChart,
  cusumLimitFor,
  cusumRunLength,
  twoSidedCusumRunLength,
} from "./cusum.js";
export { ewmaChart, ewmaRunLength } from "./ewma.js";
export { clippedNormalIncrement, normalIncrement } from "./increment-law.js";
