export type * from "./find-root.js";
export { findRoot } from "./find-root.js";
export { gaussHermite } from "./gauss-hermite.js";
export type * from "./gauss-legendre.js";
export type * from "./minimise-on-interval.js";
export type * from "./minimise-smooth.js";
export { requireNumber, requireNumbers } from "./require-numbers.js";
