export type * from "./archived-study.js";
export type * from "./archived-tables.js";
export type * from "./load-engine.js";
export type * from "./open-archive.js";
export { openArchive } from "./open-archive.js";
