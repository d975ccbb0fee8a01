/** In-place Cholesky of the lower triangle of a small matrix; false when not positive definite. */
export function factorInPlace(m: Float64Array, size: number, at = 0): boolean {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let s = m[at + i * size + j]!;
      for (let k = 0; k < j; k++) s -= m[at + i * size + k]! * m[at + j * size + k]!;
      if (i === j) {
        if (!(s > 0)) return false;
        m[at + i * size + i] = Math.sqrt(s);
      } else m[at + i * size + j] = s / m[at + j * size + j]!;
    }
  }
  return true;
}

/** Solves L x = b in place, L being the factor of {@link factorInPlace}. */
export function solveLowerInPlace(l: Float64Array, size: number, b: Float64Array, at = 0): void {
  for (let i = 0; i < size; i++) {
    let s = b[i]!;
    for (let k = 0; k < i; k++) s -= l[at + i * size + k]! * b[k]!;
    b[i] = s / l[at + i * size + i]!;
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
