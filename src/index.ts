export * from "./charts/index.js";
export * from "./core/index.js";
export * from "./notebook/index.js";
export * from "./report/index.js";
export * from "./units/index.js";
