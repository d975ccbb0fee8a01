export { type Column, tableColumns, tableNames } from "./columns.js";
export { type DictionaryEntry, dataDictionary } from "./data-dictionary.js";
export { readStudy } from "./files/read-study.js";
export {
  type RecordTotals,
  type TotalledDay,
  type TotalOptions,
  totalRecords,
} from "./files/total-records.js";
export { writeAtomically } from "./files/write-atomically.js";
export { parseStudy, type StudyInput } from "./parse-study.js";
export { proposeForStudy } from "./propose-for-study.js";
export type { ColumnProposal, TableProposal } from "./propose-mapping.js";
export type { GridCell, MergedRange, SheetGrid } from "./sheet-grid.js";
export type * from "./study.js";
export {
  countNotices,
  type NoticeCount,
  type StudySummary,
  summariseStudy,
} from "./summarise-study.js";
export { templateWorkbook } from "./template-workbook.js";
