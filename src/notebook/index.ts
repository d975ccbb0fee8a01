export { type DataFrameLike, type FrameRow, fromDataFrame, toDataFrame } from "./data-frame.js";
export type { DisplayAdapter } from "./display-adapter.js";
export { displayBundle } from "./display-bundle.js";
export { assertClean, watchForLateErrors } from "./late-errors.js";
export { notebookParameters, type ParameterValue } from "./parameters.js";
export { show } from "./show.js";
