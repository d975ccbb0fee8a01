export { animalLabel } from "./animal-label.js";
export { conversionTable, ratioText } from "./conversion-table.js";
export { curvesTable } from "./curves-table.js";
export { flagsTable } from "./flags-table.js";
export { type GainsTableOptions, gainsTable } from "./gains-table.js";
export { observationsTable } from "./observations-table.js";
export { recordsTable } from "./records-table.js";
export { setAsideTable } from "./set-aside-table.js";
export { slipsTable } from "./slips-table.js";
