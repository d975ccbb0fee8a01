export {
  bisquareInfluence,
  hampelInfluence,
  huberInfluence,
} from "./influence-function.js";
export { huberLocation } from "./robust-location.js";
export { robustRegression } from "./robust-regression.js";
export { theilSen } from "./theil-sen.js";
