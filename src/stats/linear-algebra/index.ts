export { choleskyFactor } from "./cholesky.js";
export type * from "./householder-qr.js";
export type * from "./matrix.js";
export { makeMatrix, matrixFromRows, matrixRows } from "./matrix.js";
export type * from "./symmetric-eigen.js";
