export type * from "./data-frame.js";
export { fromDataFrame, toDataFrame } from "./data-frame.js";
export type * from "./display-adapter.js";
export { displayBundle } from "./display-bundle.js";
export { assertClean, watchForLateErrors } from "./late-errors.js";
export type * from "./parameters.js";
export { notebookParameters } from "./parameters.js";
