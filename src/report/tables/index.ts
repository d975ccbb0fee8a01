export { animalLabel } from "./animal-label.js";
export { animalRecordsSection } from "./animal-records-section.js";
export { animalSummary } from "./animal-summary.js";
export { animalsTable } from "./animals-table.js";
export { changeOfGainSection } from "./change-of-gain-section.js";
export { cohortAverageTable, cohortTable, replayTable } from "./cohort-tables.js";
export { contemporaryFeedingTable } from "./contemporary-feeding-table.js";
export { contemporaryZTable } from "./contemporary-z-table.js";
export { conversionTable, ratioText } from "./conversion-table.js";
export { curveChoiceTable, derivedGrowthTable } from "./curve-choice-table.js";
export { curvesTable } from "./curves-table.js";
export { decisionsTable } from "./decisions-table.js";
export { expectedWeekSection, expectedWeekTable } from "./expected-week-table.js";
export { feedingTable } from "./feeding-table.js";
export { flagEvidenceTable } from "./flag-evidence-table.js";
export {
  type FlagLogOptions,
  flagLogTable,
  flagSeasonsTable,
  ofLatestSeason,
} from "./flag-log-table.js";
export { flagsTable } from "./flags-table.js";
export { type GainsTableOptions, gainsTable } from "./gains-table.js";
export { growthTable } from "./growth-table.js";
export { happeningsTable } from "./happenings-table.js";
export { type FoundInShort, inShortSection } from "./in-short-section.js";
export { massForLengthTable } from "./mass-for-length-table.js";
export { methodsSection } from "./methods-section.js";
export { milestoneComparisonTable } from "./milestone-comparison-table.js";
export { milestoneSeasonsTable, type SeasonMilestones } from "./milestone-seasons-table.js";
export { milestonesTable } from "./milestones-table.js";
export { missingGramsTable } from "./missing-grams-table.js";
export { observationsTable } from "./observations-table.js";
export { phaseSummaryTable } from "./phase-summary-table.js";
export { protocolChangeTable } from "./protocol-change-table.js";
export { questionsSection } from "./questions-section.js";
export { realOrNotTable } from "./real-or-not-table.js";
export { recordsTable } from "./records-table.js";
export { rhythmTable } from "./rhythm-table.js";
export { scaleChecksTable } from "./scale-checks-table.js";
export { seasonChecksTable } from "./season-checks-table.js";
export { seasonCurveDifferencesTable, seasonCurvesTable } from "./season-curves-table.js";
export { seasonSlopesTable } from "./season-slopes-table.js";
export { type SeasonSummaryTableOptions, seasonSummaryTable } from "./season-summary-table.js";
export { seasonComparisonTable, seasonPairsTable } from "./season-tables.js";
export { setAsideTable } from "./set-aside-table.js";
export { slipsTable } from "./slips-table.js";
export { spreadText } from "./spread-text.js";
export { whatWouldChangeSection } from "./what-would-change-section.js";
