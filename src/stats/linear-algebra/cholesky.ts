import { type Matrix, makeMatrix } from "./matrix.js";

/**
 * The lower triangular L with a = L L', or `null` when `a` is not positive
 * definite in float64 (a pivot is not above `tolerance` times its diagonal
 * entry, or a number is not finite). Only the lower triangle of `a` is read.
 *
 * @example choleskyFactor(matrixFromRows([[4, 2], [2, 5]]))?.data // 2 0 1 2
 */
export function choleskyFactor(a: Matrix, tolerance = 0): Matrix | null {
  const n = a.rows;
  const l = makeMatrix(n, n);
  for (let j = 0; j < n; j++) {
    let pivot = a.data[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= l.data[j * n + k]! ** 2;
    if (!(pivot > tolerance * Math.abs(a.data[j * n + j]!)) || !Number.isFinite(pivot)) return null;
    const root = Math.sqrt(pivot);
    l.data[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let s = a.data[i * n + j]!;
      for (let k = 0; k < j; k++) s -= l.data[i * n + k]! * l.data[j * n + k]!;
      l.data[i * n + j] = s / root;
    }
  }
  return l;
}

/** Solves L x = b for lower triangular L. */
export function solveLowerTriangular(l: Matrix, b: ArrayLike<number>): Float64Array {
  const n = l.rows;
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let s = x[i]!;
    for (let k = 0; k < i; k++) s -= l.data[i * n + k]! * x[k]!;
    x[i] = s / l.data[i * n + i]!;
  }
  return x;
}

/** Solves L' x = b for lower triangular L. */
export function solveTransposedLowerTriangular(l: Matrix, b: ArrayLike<number>): Float64Array {
  const n = l.rows;
  const x = Float64Array.from(b);
  for (let i = n - 1; i >= 0; i--) {
    let s = x[i]!;
    for (let k = i + 1; k < n; k++) s -= l.data[k * n + i]! * x[k]!;
    x[i] = s / l.data[i * n + i]!;
  }
  return x;
}

/** Solves R x = b for upper triangular R (the leading `n` rows and columns of it). */
export function solveUpperTriangular(r: Matrix, b: ArrayLike<number>, n = r.cols): Float64Array {
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let s = b[i]!;
    for (let k = i + 1; k < n; k++) s -= r.data[i * r.cols + k]! * x[k]!;
    x[i] = s / r.data[i * r.cols + i]!;
  }
  return x;
}

/** Solves a x = b where `l` is the Cholesky factor of a. */
export function solveCholesky(l: Matrix, b: ArrayLike<number>): Float64Array {
  return solveTransposedLowerTriangular(l, solveLowerTriangular(l, b));
}

/** Solves a X = B column by column where `l` is the Cholesky factor of a. */
export function solveCholeskyMatrix(l: Matrix, b: Matrix): Matrix {
  const out = makeMatrix(b.rows, b.cols);
  const column = new Float64Array(b.rows);
  for (let j = 0; j < b.cols; j++) {
    for (let i = 0; i < b.rows; i++) column[i] = b.data[i * b.cols + j]!;
    const x = solveCholesky(l, column);
    for (let i = 0; i < b.rows; i++) out.data[i * b.cols + j] = x[i]!;
  }
  return out;
}

/** The inverse of a, from its Cholesky factor; exactly symmetric. */
export function invertFromCholesky(l: Matrix): Matrix {
  const n = l.rows;
  const inverse = invertLowerTriangular(l);
  const out = makeMatrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = 0;
      for (let k = i; k < n; k++) s += inverse.data[k * n + i]! * inverse.data[k * n + j]!;
      out.data[i * n + j] = s;
      out.data[j * n + i] = s;
    }
  }
  return out;
}

/** The inverse of a lower triangular matrix. */
export function invertLowerTriangular(l: Matrix): Matrix {
  const n = l.rows;
  const out = makeMatrix(n, n);
  for (let j = 0; j < n; j++) {
    out.data[j * n + j] = 1 / l.data[j * n + j]!;
    for (let i = j + 1; i < n; i++) {
      let s = 0;
      for (let k = j; k < i; k++) s -= l.data[i * n + k]! * out.data[k * n + j]!;
      out.data[i * n + j] = s / l.data[i * n + i]!;
    }
  }
  return out;
}

/** log det(a), from the Cholesky factor of a. */
export function logDeterminantFromCholesky(l: Matrix): number {
  let s = 0;
  for (let i = 0; i < l.rows; i++) s += Math.log(l.data[i * l.rows + i]!);
  return 2 * s;
}
