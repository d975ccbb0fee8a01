export { type Bootstrap, bootstrap } from "./bootstrap.js";
export { type PermutationTest, permutationTest } from "./permutation-test.js";
