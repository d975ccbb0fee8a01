export { fitLms, type LmsCurve, type LmsFit } from "./lms-fit.js";
export { type Lms, lmsCentile, lmsZ, restrictedLmsZ } from "./lms-z.js";
