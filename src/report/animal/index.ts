export { animalRecordsSection } from "./animal-records-section.js";
export { animalSummary } from "./animal-summary.js";
export { changeOfGainSection } from "./change-of-gain-section.js";
export { contemporaryFeedingTable } from "./contemporary-feeding-table.js";
export { contemporaryZTable } from "./contemporary-z-table.js";
export { curveChoiceTable, derivedGrowthTable } from "./curve-choice-table.js";
export { curvesTable } from "./curves-table.js";
export { expectedWeekPicture } from "./expected-week-picture.js";
export { expectedWeekSection, expectedWeekTable } from "./expected-week-table.js";
export { fitPicture, profilePicture, residualPicture } from "./fit-pictures.js";
export { flagEvidenceTable } from "./flag-evidence-table.js";
export {
  type FlagLogOptions,
  flagLogTable,
  flagSeasonsTable,
  ofLatestSeason,
} from "./flag-log-table.js";
export { gainPicture } from "./gain-picture.js";
export { growthCurvePicture } from "./growth-curve-picture.js";
export { happeningsTable } from "./happenings-table.js";
export { type FoundInShort, inShortSection } from "./in-short-section.js";
export { intakePicture } from "./intake-picture.js";
export { massForLengthTable } from "./mass-for-length-table.js";
export { massAmongOthersPicture } from "./masses-picture.js";
export { missingGramsTable } from "./missing-grams-table.js";
export { observationsTable } from "./observations-table.js";
export { questionsSection } from "./questions-section.js";
export { realOrNotTable } from "./real-or-not-table.js";
export { rhythmTable } from "./rhythm-table.js";
export { timelinePicture } from "./timeline-picture.js";
export { whatWouldChangeSection } from "./what-would-change-section.js";
