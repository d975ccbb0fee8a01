export * from "./pictures/index.js";
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
export { tableRows } from "./table-rows.js";
export * from "./tables/index.js";
