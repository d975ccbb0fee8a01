export { findRoot } from "./find-root.js";
export { gaussHermite } from "./gauss-hermite.js";
