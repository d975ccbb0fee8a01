export { requireNumber, requireNumbers } from "../../core/require-numbers.js";
export type * from "./find-root.js";
export { findRoot } from "./find-root.js";
export { gaussHermite } from "./gauss-hermite.js";
export type * from "./gauss-legendre.js";
export type * from "./minimise-on-interval.js";
export type * from "./minimise-smooth.js";
