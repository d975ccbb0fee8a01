export { noticeText } from "./catalogue.js";
export type * from "./long-work.js";
export type * from "./measured.js";
export type * from "./notice.js";
export type * from "./parallel.js";
export type * from "./random.js";
export type * from "./result.js";
export { UsageError } from "./usage-error.js";
export type * from "./wording.js";
