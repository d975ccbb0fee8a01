export { choleskyFactor } from "./cholesky.js";
export { type Matrix, makeMatrix, matrixFromRows, matrixRows } from "./matrix.js";
