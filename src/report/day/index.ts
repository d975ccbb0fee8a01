export { animalsTable } from "./animals-table.js";
export { conversionPicture } from "./conversion-picture.js";
export { conversionTable, ratioText } from "./conversion-table.js";
export { flagsTable } from "./flags-table.js";
export { gainsPicture } from "./gains-picture.js";
export { type GainsTableOptions, gainsTable } from "./gains-table.js";
