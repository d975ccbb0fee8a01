export * from "./analysis/index.js";
export * from "./charts/index.js";
export * from "./core/index.js";
export * from "./flags/index.js";
export * from "./growth/index.js";
export * from "./notebook/index.js";
export * from "./planning/index.js";
export {
  type WriteReportOptions,
  type WrittenReport,
  writeReport,
} from "./publish/write-report.js";
export * from "./rates/index.js";
export * from "./records/index.js";
export * from "./reference/index.js";
export * from "./report/index.js";
export * from "./seasons/index.js";
export * from "./series/index.js";
export * from "./species/index.js";
export * as stats from "./stats/index.js";
// Several rooms name these two; they are the same.
export type { CivilDate, Instant } from "./units/index.js";
export * from "./units/index.js";
