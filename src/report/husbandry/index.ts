export { growthTable } from "./growth-table.js";
export { methodsSection } from "./methods-section.js";
