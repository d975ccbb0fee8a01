export type { SeasonMilestones } from "../../analysis/season-answers.js";
export {
  cohortAveragePicture,
  cohortCurvesPicture,
  cohortGainsPicture,
} from "./cohort-pictures.js";
export { cohortAverageTable, cohortTable, replayTable } from "./cohort-tables.js";
export { milestoneComparisonTable } from "./milestone-comparison-table.js";
export { milestonePicture } from "./milestone-picture.js";
export { milestoneSeasonsPicture } from "./milestone-seasons-picture.js";
export { milestoneSeasonsTable } from "./milestone-seasons-table.js";
export { milestonesTable } from "./milestones-table.js";
export { phaseSummaryTable } from "./phase-summary-table.js";
export { protocolChangeTable } from "./protocol-change-table.js";
export { seasonChecksTable } from "./season-checks-table.js";
export { seasonCurvesPicture } from "./season-curves-picture.js";
export { seasonCurveDifferencesTable, seasonCurvesTable } from "./season-curves-table.js";
export { seasonMassesPicture } from "./season-masses-picture.js";
export { seasonSlopesTable } from "./season-slopes-table.js";
export { type SeasonSummaryTableOptions, seasonSummaryTable } from "./season-summary-table.js";
export { seasonComparisonTable, seasonPairsTable } from "./season-tables.js";
export { seasonsPicture } from "./seasons-picture.js";
