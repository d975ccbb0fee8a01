/**
 * The entry: read a study, ask a question, show the answer, write a report.
 * Everything else stands in its room: `growth.fitCurve`, `flags.findFlags`.
 */

export type * from "./analysis/index.js";
export {
  analyse,
  askCohort,
  askCurve,
  askDay,
  askFeedingPlan,
  askHandOver,
  askReport,
  askSeasons,
  askSlowGainer,
} from "./analysis/index.js";
export { readStudy } from "./cache/index.js";
export type * from "./charts/index.js";
export type * from "./core/index.js";
export * as flags from "./flags/index.js";
export * as growth from "./growth/index.js";
export * as notebook from "./notebook/index.js";
export { rows } from "./notebook/rows.js";
export { show } from "./notebook/show.js";
export * as planning from "./planning/index.js";
export { type WriteReportOptions, type WrittenReport, writeReport } from "./publish/index.js";
export * as rates from "./rates/index.js";
export * as records from "./records/index.js";
export * as reference from "./reference/index.js";
export * as report from "./report/index.js";
export * as seasons from "./seasons/index.js";
export * as series from "./series/index.js";
export type * from "./species/index.js";
export * as stats from "./stats/index.js";
export * as units from "./units/index.js";
