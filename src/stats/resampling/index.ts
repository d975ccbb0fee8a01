export type * from "./bootstrap.js";
export { bootstrap } from "./bootstrap.js";
export type * from "./permutation-test.js";
export { permutationTest } from "./permutation-test.js";
