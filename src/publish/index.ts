export type * from "./report-files.js";
export type * from "./write-hand-over.js";
export type * from "./write-report.js";
export { writeReport } from "./write-report.js";
