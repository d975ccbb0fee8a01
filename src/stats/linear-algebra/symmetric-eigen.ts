import { identityMatrix, type Matrix, makeMatrix } from "./matrix.js";

export interface SymmetricEigen {
  /** Eigenvalues, largest first. */
  readonly values: Float64Array;
  /** Column k is the unit eigenvector of `values[k]`. */
  readonly vectors: Matrix;
  /** False when the sweeps ran out before the off-diagonal vanished. */
  readonly converged: boolean;
}

/**
 * Eigenvalues and eigenvectors of a symmetric matrix by cyclic Jacobi rotations:
 * slow for hundreds of rows, but small eigenvalues keep their digits. Only
 * the lower triangle is read. Source: Golub and Van Loan, Matrix Computations, 8.5.
 *
 * @example symmetricEigen(matrixFromRows([[2, 1], [1, 2]])).values // 3, 1
 */
export function symmetricEigen(a: Matrix): SymmetricEigen {
  const n = a.rows;
  const m = makeMatrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      m.data[i * n + j] = a.data[i * n + j]!;
      m.data[j * n + i] = a.data[i * n + j]!;
    }
  }
  const v = identityMatrix(n);
  let converged = n < 2;
  for (let sweep = 0; sweep < 60 && !converged; sweep++) {
    converged = true;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = m.data[p * n + q]!;
        const size = Math.sqrt(Math.abs(m.data[p * n + p]! * m.data[q * n + q]!));
        if (apq === 0 || Math.abs(apq) <= 1e-17 * size) continue;
        if (Math.abs(apq) > 4e-16 * size) converged = false;
        rotate(m, v, p, q);
      }
    }
  }
  const order = Array.from({ length: n }, (_, i) => i).sort(
    (i, j) => m.data[j * n + j]! - m.data[i * n + i]!,
  );
  const vectors = makeMatrix(n, n);
  order.forEach((from, k) => {
    for (let i = 0; i < n; i++) vectors.data[i * n + k] = v.data[i * n + from]!;
  });
  return {
    values: Float64Array.from(order, (i) => m.data[i * n + i]!),
    vectors,
    converged,
  };
}

/** One rotation in the plane (p, q) that makes entry (p, q) zero. */
function rotate(m: Matrix, v: Matrix, p: number, q: number): void {
  const n = m.rows;
  const apq = m.data[p * n + q]!;
  const theta = (m.data[q * n + q]! - m.data[p * n + p]!) / (2 * apq);
  const t = Number.isFinite(theta * theta)
    ? (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1))
    : 1 / (2 * theta);
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    if (k === p || k === q) continue;
    const akp = m.data[k * n + p]!;
    const akq = m.data[k * n + q]!;
    m.data[k * n + p] = m.data[p * n + k] = c * akp - s * akq;
    m.data[k * n + q] = m.data[q * n + k] = s * akp + c * akq;
  }
  m.data[p * n + p]! -= t * apq;
  m.data[q * n + q]! += t * apq;
  m.data[p * n + q] = m.data[q * n + p] = 0;
  for (let k = 0; k < n; k++) {
    const vkp = v.data[k * n + p]!;
    const vkq = v.data[k * n + q]!;
    v.data[k * n + p] = c * vkp - s * vkq;
    v.data[k * n + q] = s * vkp + c * vkq;
  }
}
