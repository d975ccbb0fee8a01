import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";

/** A dense matrix of float64, stored row by row: entry (i, j) is `data[i * cols + j]`. */
export interface Matrix {
  readonly rows: number;
  readonly cols: number;
  readonly data: Float64Array;
}

/**
 * Makes a matrix of the given shape, filled with zeros or with `data` (row by
 * row; taken over, not copied, when it is a `Float64Array`).
 *
 * @throws UsageError when `data` does not hold rows x cols numbers.
 * @example makeMatrix(2, 2, [1, 2, 3, 4]) // rows (1 2), (3 4)
 */
export function makeMatrix(rows: number, cols: number, data?: ArrayLike<number>): Matrix {
  if (data === undefined) return { rows, cols, data: new Float64Array(rows * cols) };
  if (data.length !== rows * cols) {
    throw new UsageError({
      needed: `${rows} x ${cols} = ${rows * cols} numbers`,
      came: `${data.length} numbers came`,
      where: "makeMatrix",
      todo: "Give one number per entry, row by row.",
    });
  }
  return {
    rows,
    cols,
    data: data instanceof Float64Array ? data : floats("makeMatrix", "the entries", data),
  };
}

/** Makes a matrix from its rows. @example matrixFromRows([[1, 2], [3, 4]]).data[2] // 3 */
export function matrixFromRows(rows: readonly ArrayLike<number>[]): Matrix {
  const cols = rows[0]?.length ?? 0;
  const out = makeMatrix(rows.length, cols);
  rows.forEach((row, i) => {
    if (row.length !== cols) {
      throw new UsageError({
        needed: `${cols} numbers in every row`,
        came: `row ${i} holds ${row.length}`,
        where: "matrixFromRows",
        todo: "Make every row the same length.",
      });
    }
    out.data.set(floats("matrixFromRows", `row ${i}`, row), i * cols);
  });
  return out;
}

/** Makes a matrix from its columns. @example matrixFromColumns([[1, 2], [3, 4]]).data[1] // 3 */
export function matrixFromColumns(columns: readonly ArrayLike<number>[]): Matrix {
  return transposeMatrix(matrixFromRows(columns));
}

/** The n x n matrix with ones on the diagonal. */
export function identityMatrix(n: number): Matrix {
  const out = makeMatrix(n, n);
  for (let i = 0; i < n; i++) out.data[i * n + i] = 1;
  return out;
}

/**
 * The rows as plain arrays, for results that leave the library.
 *
 * @example matrixRows(matrixFromRows([[1, 2], [3, 4]]))[1][0] // 3
 */
export function matrixRows(a: Matrix): number[][] {
  return Array.from({ length: a.rows }, (_, i) =>
    Array.from(a.data.subarray(i * a.cols, (i + 1) * a.cols)),
  );
}

/** Column j as a new array. */
export function matrixColumn(a: Matrix, j: number): Float64Array {
  return Float64Array.from({ length: a.rows }, (_, i) => a.data[i * a.cols + j]!);
}

/** The product a b. @throws UsageError when the shapes do not fit. */
export function multiplyMatrices(a: Matrix, b: Matrix): Matrix {
  if (a.cols !== b.rows) throw shapeError("multiplyMatrices", a, b.rows, b.cols);
  const out = makeMatrix(a.rows, b.cols);
  for (let i = 0; i < a.rows; i++) {
    const at = i * b.cols;
    for (let k = 0; k < a.cols; k++) {
      const f = a.data[i * a.cols + k]!;
      if (f === 0) continue;
      const from = k * b.cols;
      for (let j = 0; j < b.cols; j++) out.data[at + j]! += f * b.data[from + j]!;
    }
  }
  return out;
}

/** The transpose a'. */
export function transposeMatrix(a: Matrix): Matrix {
  const out = makeMatrix(a.cols, a.rows);
  for (let i = 0; i < a.rows; i++) {
    for (let j = 0; j < a.cols; j++) out.data[j * a.rows + i] = a.data[i * a.cols + j]!;
  }
  return out;
}

/** The cross product a'a (cols x cols, symmetric). */
export function crossProduct(a: Matrix): Matrix {
  const p = a.cols;
  const out = makeMatrix(p, p);
  for (let i = 0; i < a.rows; i++) {
    const at = i * p;
    for (let j = 0; j < p; j++) {
      const f = a.data[at + j]!;
      if (f === 0) continue;
      for (let k = j; k < p; k++) out.data[j * p + k]! += f * a.data[at + k]!;
    }
  }
  for (let j = 0; j < p; j++) {
    for (let k = j + 1; k < p; k++) out.data[k * p + j] = out.data[j * p + k]!;
  }
  return out;
}

/** The product a x. @throws UsageError when x does not hold `a.cols` numbers. */
export function matrixTimesVector(a: Matrix, x: ArrayLike<number>): Float64Array {
  if (x.length !== a.cols) throw shapeError("matrixTimesVector", a, x.length, 1);
  const out = new Float64Array(a.rows);
  for (let i = 0; i < a.rows; i++) {
    let s = 0;
    for (let j = 0; j < a.cols; j++) s += a.data[i * a.cols + j]! * x[j]!;
    out[i] = s;
  }
  return out;
}

/** The quadratic form x'a x. */
export function quadraticForm(a: Matrix, x: ArrayLike<number>): number {
  const ax = matrixTimesVector(a, x);
  let s = 0;
  for (let i = 0; i < ax.length; i++) s += x[i]! * ax[i]!;
  return s;
}

function shapeError(where: string, a: Matrix, rows: number, cols: number): UsageError {
  return new UsageError({
    needed: `a right-hand side with ${a.cols} rows`,
    came: `a ${a.rows} x ${a.cols} matrix met ${rows} x ${cols}`,
    where,
    todo: "Check which of the two should be transposed.",
  });
}

function floats(where: string, name: string, values: ArrayLike<number>): Float64Array {
  requireList(where, name, values);
  return Float64Array.from(values as ArrayLike<number>);
}
