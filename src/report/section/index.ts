export { animalLabel } from "./animal-label.js";
export { rowsTable } from "./rows-table.js";
export {
  type Block,
  type Cell,
  type Column as TableColumn,
  caution,
  chartBlock,
  list,
  type Section,
  section,
  type Table,
  table,
  text,
} from "./section.js";
export { spreadText } from "./spread-text.js";
export { tableRows } from "./table-rows.js";
