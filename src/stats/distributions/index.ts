export { betaCumulative, betaDensity, betaQuantile } from "./beta.js";
export {
  binomialCumulative,
  binomialDensity,
  binomialQuantile,
} from "./binomial.js";
export {
  chiSquaredCumulative,
  chiSquaredDensity,
  chiSquaredQuantile,
} from "./chi-squared.js";
export {
  exponentialCumulative,
  exponentialDensity,
  exponentialQuantile,
} from "./exponential.js";
export { fCumulative, fDensity, fQuantile } from "./f.js";
export { gammaCumulative, gammaDensity, gammaQuantile } from "./gamma.js";
export { mixedTHalfWidth } from "./mixed-t-half-width.js";
export { noncentralTCumulative, noncentralTQuantile } from "./noncentral-t.js";
export {
  normalCumulative,
  normalDensity,
  normalLogCumulative,
  normalQuantile,
} from "./normal.js";
export { poissonCumulative, poissonDensity, poissonQuantile } from "./poisson.js";
export {
  studentTCumulative,
  studentTDensity,
  studentTQuantile,
} from "./student-t.js";
export {
  studentizedRangeCumulative,
  studentizedRangeQuantile,
} from "./studentized-range.js";
export type { Tail } from "./tail.js";
export { uniformCumulative, uniformDensity, uniformQuantile } from "./uniform.js";
export { weibullCumulative, weibullDensity, weibullQuantile } from "./weibull.js";
