export { competingEvents } from "./competing-events.js";
export { concordance } from "./concordance.js";
export { coxRegression } from "./cox-regression.js";
export {
  kaplanMeier,
  restrictedMean,
  survivalAt,
  survivalQuantile,
} from "./kaplan-meier.js";
export { logRankTest } from "./log-rank-test.js";
export { parametricSurvival } from "./parametric-survival.js";
export { proportionalHazardsCheck } from "./proportional-hazards-check.js";
