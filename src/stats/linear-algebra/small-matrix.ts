/** In-place Cholesky of the lower triangle of a small matrix; false when not positive definite. */
export function factorInPlace(m: Float64Array, size: number, at = 0): boolean {
  // Row offsets are kept outside the innermost loop: this runs some hundred times a day.
  for (let i = 0; i < size; i++) {
    const row = at + i * size;
    for (let j = 0; j < i; j++) {
      const other = at + j * size;
      let s = m[row + j]!;
      for (let k = 0; k < j; k++) s -= m[row + k]! * m[other + k]!;
      m[row + j] = s / m[other + j]!;
    }
    let square = m[row + i]!;
    for (let k = 0; k < i; k++) square -= m[row + k]! * m[row + k]!;
    if (!(square > 0)) return false;
    m[row + i] = Math.sqrt(square);
  }
  return true;
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
  const b = new Float64Array(size);
  for (let c = 0; c < size; c++) {
    b.fill(0);
    b[c] = 1;
    solveLowerInPlace(l, size, b);
    solveUpperInPlace(l, size, b);
    for (let r = 0; r < size; r++) out[r * size + c] = b[r]!;
  }
  return out;
}

/** Twice the sum of logs of the diagonal of a factor: the log determinant. */
export function logDeterminant(l: Float64Array, size: number, at = 0): number {
  let s = 0;
  for (let i = 0; i < size; i++) s += Math.log(l[at + i * size + i]!);
  return 2 * s;
}
