export type * from "./display-adapter.js";
export { displayBundle } from "./display-bundle.js";
export { assertClean, watchForLateErrors } from "./late-errors.js";
export { loadOptional } from "./load-optional.js";
export type * from "./parameters.js";
export { notebookParameters } from "./parameters.js";
export type * from "./rows.js";
export type * from "./with-progress.js";
export { withProgress } from "./with-progress.js";
