export { digamma, gammaFunction, logBeta, logGamma, trigamma } from "./gamma-function.js";
export { incompleteBeta } from "./incomplete-beta.js";
export type * from "./incomplete-gamma.js";
export { incompleteGamma } from "./incomplete-gamma.js";
