export { type Column, tableColumns, tableNames } from "./columns.js";
export { readStudy } from "./files/read-study.js";
export { parseStudy, type StudyInput } from "./parse-study.js";
export type * from "./study.js";
