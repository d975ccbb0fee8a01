export { animalLabel } from "./animal-label.js";
export { animalRecordsSection } from "./animal-records-section.js";
export { animalSummary } from "./animal-summary.js";
export { animalsTable } from "./animals-table.js";
export { cohortTable, replayTable } from "./cohort-tables.js";
export { contemporaryFeedingTable } from "./contemporary-feeding-table.js";
export { contemporaryZTable } from "./contemporary-z-table.js";
export { conversionTable, ratioText } from "./conversion-table.js";
export { curveChoiceTable, derivedGrowthTable } from "./curve-choice-table.js";
export { curvesTable } from "./curves-table.js";
export { feedingTable } from "./feeding-table.js";
export { flagEvidenceTable } from "./flag-evidence-table.js";
export { flagsTable } from "./flags-table.js";
export { type GainsTableOptions, gainsTable } from "./gains-table.js";
export { growthTable } from "./growth-table.js";
export { massForLengthTable } from "./mass-for-length-table.js";
export { methodsSection } from "./methods-section.js";
export { milestonesTable } from "./milestones-table.js";
export { missingGramsTable } from "./missing-grams-table.js";
export { observationsTable } from "./observations-table.js";
export { recordsTable } from "./records-table.js";
export { rhythmTable } from "./rhythm-table.js";
export { scaleChecksTable } from "./scale-checks-table.js";
export {
  seasonComparisonTable,
  seasonPairsTable,
  seasonSummaryTable,
  spreadText,
} from "./season-tables.js";
export { setAsideTable } from "./set-aside-table.js";
export { slipsTable } from "./slips-table.js";
