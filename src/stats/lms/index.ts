export type * from "./lms-fit.js";
export { fitLms } from "./lms-fit.js";
export type * from "./lms-z.js";
export { lmsCentile, lmsZ, restrictedLmsZ } from "./lms-z.js";
