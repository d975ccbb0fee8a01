/**
 * What needs Node beside the entry: worker threads, files by the million, pages
 * written to disk. `gramline/growth` and `gramline/stats` run anywhere.
 */
export { leaveOutPeople } from "./analysis/leave-out-people.js";
export * as archive from "./archive/index.js";
export { readStudy } from "./cache/read-study.js";
export { type ParallelWork, runJobs } from "./core/parallel.js";
export {
  type FitManyOptions,
  type FitSummary,
  fitManyCurves,
  type ManyCurveFits,
  type NamedSeries,
} from "./growth/fit-many-curves.js";
export {
  type AddedToArchive,
  type AddToArchiveOptions,
  addToArchive,
} from "./publish/add-to-archive.js";
export { inventedHouses } from "./publish/invented-houses.js";
export { type WriteHandOverOptions, writeHandOver } from "./publish/write-hand-over.js";
export {
  type WriteReportOptions,
  type WrittenReport,
  writeReport,
} from "./publish/write-report.js";
export { totalRecords } from "./records/files/total-records.js";
export { writeAtomically } from "./records/files/write-atomically.js";
