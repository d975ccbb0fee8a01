/**
 * One row of a Cholesky factor in place, the rows above being done: what is left of the
 * square on the diagonal, whose root is put there. Not above 0 where the matrix is not
 * positive definite.
 */
export function factorRow(m: Float64Array, size: number, i: number, at = 0): number {
  // Row offsets are kept outside the innermost loop: this runs some hundred times a day.
  const row = at + i * size;
  for (let j = 0; j < i; j++) {
    const other = at + j * size;
    let s = m[row + j]!;
    for (let k = 0; k < j; k++) s -= m[row + k]! * m[other + k]!;
    m[row + j] = s / m[other + j]!;
  }
  let square = m[row + i]!;
  for (let k = 0; k < i; k++) square -= m[row + k]! * m[row + k]!;
  m[row + i] = Math.sqrt(square);
  return square;
}

/** In-place Cholesky of the lower triangle of a small matrix; false when not positive definite. */
export function factorInPlace(m: Float64Array, size: number, at = 0): boolean {
  for (let i = 0; i < size; i++) if (!(factorRow(m, size, i, at) > 0)) return false;
  return true;
}

/**
 * The same, giving `before` and the log determinant added to it; NaN where the matrix is
 * not positive definite or not finite.
 */
export function factorWithLogDeterminant(
  m: Float64Array,
  size: number,
  at = 0,
  before = 0,
): number {
  let logDet = before;
  for (let i = 0; i < size; i++) {
    const square = factorRow(m, size, i, at);
    if (!(square > 0) || square === Number.POSITIVE_INFINITY) return Number.NaN;
    logDet += Math.log(square);
  }
  return logDet;
}

/** The lower Cholesky factor of a symmetric positive semidefinite matrix; zero pivots give zero columns. */
export function semidefiniteFactor(a: ArrayLike<number>, size: number): Float64Array {
  const l = new Float64Array(size * size);
  for (let j = 0; j < size; j++) {
    let pivot = a[j * size + j]!;
    for (let k = 0; k < j; k++) pivot -= l[j * size + k]! ** 2;
    if (!(pivot > 1e-14 * Math.abs(a[j * size + j]!))) continue;
    const root = Math.sqrt(pivot);
    l[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let s = a[i * size + j]!;
      for (let k = 0; k < j; k++) s -= l[i * size + k]! * l[j * size + k]!;
      l[i * size + j] = s / root;
    }
  }
  return l;
}

/**
 * Solves L x = b in place, L being the factor of {@link factorInPlace}; b is zero before
 * its `first` number, and so is x.
 */
export function solveLowerInPlace(
  l: Float64Array,
  size: number,
  b: Float64Array,
  at = 0,
  first = 0,
): void {
  for (let i = first; i < size; i++) {
    const row = at + i * size;
    let s = b[i]!;
    for (let k = first; k < i; k++) s -= l[row + k]! * b[k]!;
    b[i] = s / l[row + i]!;
  }
}

/** Solves L' x = b in place. */
export function solveUpperInPlace(l: Float64Array, size: number, b: Float64Array, at = 0): void {
  for (let i = size - 1; i >= 0; i--) {
    let s = b[i]!;
    for (let k = i + 1; k < size; k++) s -= l[at + k * size + i]! * b[k]!;
    b[i] = s / l[at + i * size + i]!;
  }
}

/** Inverse of a symmetric positive definite matrix (full, row by row); null where it is not. */
export function invertSymmetric(m: ArrayLike<number>, size: number): Float64Array | null {
  const l = Float64Array.from(m);
  if (!factorInPlace(l, size)) return null;
  const out = new Float64Array(size * size);
  invertFromFactor(l, size, out);
  return out;
}

/** The inverse of a symmetric matrix from its lower Cholesky factor, into `out`. */
export function invertFromFactor(l: Float64Array, size: number, out: Float64Array): void {
  for (let c = 0; c < size; c++) {
    for (let i = 0; i < size; i++) {
      let s = i === c ? 1 : 0;
      for (let k = 0; k < i; k++) s -= l[i * size + k]! * out[k * size + c]!;
      out[i * size + c] = s / l[i * size + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      let s = out[i * size + c]!;
      for (let k = i + 1; k < size; k++) s -= l[k * size + i]! * out[k * size + c]!;
      out[i * size + c] = s / l[i * size + i]!;
    }
  }
}

/** Twice the sum of logs of the diagonal of a factor: the log determinant. */
export function logDeterminant(l: Float64Array, size: number, at = 0): number {
  let s = 0;
  for (let i = 0; i < size; i++) s += Math.log(l[at + i * size + i]!);
  return 2 * s;
}
