export { digamma, gammaFunction, logBeta, logGamma, trigamma } from "./gamma-function.js";
export { incompleteBeta } from "./incomplete-beta.js";
export { incompleteGamma } from "./incomplete-gamma.js";
