import { choleskyFactor, invertFromCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix, matrixTimesVector } from "../linear-algebra/matrix.js";
import type { ErrorsInVariablesData } from "./errors-in-variables-data.js";

/** What one group adds to the normal equations. */
export interface MomentShare {
  readonly cross: Matrix;
  readonly right: Float64Array;
  /** Expected share of the error in the square of the noisy column ... */
  readonly error: number;
  /** ... and in what the other columns take from it. */
  readonly taken: Matrix;
}

/** The share of one group, with variances `tau2` of its coefficient and `sigma2` of a row. */
export function momentShare(
  data: ErrorsInVariablesData,
  group: string,
  tau2: number,
  sigma2: number,
): MomentShare {
  const rows = data.group.flatMap((g, i) => (g === group ? [i] : []));
  const p = data.columns.length;
  const z = rows.map((i) => data.random[i]!);
  const squares = z.reduce((s, v) => s + v * v, 0);
  // Inverse of sigma2 I + tau2 z z' by Sherman and Morrison, times sigma2.
  const total = sigma2 + tau2 * squares;
  const k = total > 0 ? tau2 / total : 0;
  const all = [...data.columns, data.response].map((c) => rows.map((i) => c[i]!));
  const along = all.map((c) => c.reduce((s, v, i) => s + v * z[i]!, 0));
  const cross = makeMatrix(p, p);
  const right = new Float64Array(p);
  const product = (a: number, b: number) =>
    all[a]!.reduce((s, v, i) => s + v * all[b]![i]!, 0) - k * along[a]! * along[b]!;
  for (let a = 0; a < p; a++) {
    right[a] = product(a, p);
    for (let b = 0; b < p; b++) cross.data[a * p + b] = product(a, b);
  }
  const error = rows.reduce((s, i, j) => s + data.errorVariance[i]! * (1 - k * z[j]! ** 2), 0);
  const others = [...data.columns.keys()].filter((j) => j !== data.noisy);
  const taken = makeMatrix(p - 1, p - 1);
  rows.forEach((i, j) => {
    const w = others.map((c) => all[c]![j]! - k * z[j]! * along[c]!);
    for (let a = 0; a < p - 1; a++) {
      for (let b = 0; b < p - 1; b++) {
        taken.data[a * (p - 1) + b]! += data.errorVariance[i]! * w[a]! * w[b]!;
      }
    }
  });
  return { cross, right, error, taken };
}

/** Solves the corrected equations of some groups; null when nothing is left of the noisy column. */
export function solveMoments(shares: readonly MomentShare[], noisy: number, p: number) {
  const cross = makeMatrix(p, p);
  const taken = makeMatrix(p - 1, p - 1);
  const right = new Float64Array(p);
  let error = 0;
  for (const s of shares) {
    for (let i = 0; i < cross.data.length; i++) cross.data[i]! += s.cross.data[i]!;
    for (let i = 0; i < taken.data.length; i++) taken.data[i]! += s.taken.data[i]!;
    for (let i = 0; i < p; i++) right[i]! += s.right[i]!;
    error += s.error;
  }
  const plain = choleskyFactor(cross, 1e-12);
  const others = choleskyFactor(without(cross, noisy), 1e-12);
  if (plain === null || others === null) return null;
  // The other columns fit part of the error too: that part is no longer in the scatter.
  const inverse = invertFromCholesky(others);
  error -= inverse.data.reduce((sum, v, i) => sum + v * taken.data[i]!, 0);
  // Scatter of the noisy column beside the others.
  const scatter = 1 / invertFromCholesky(plain).data[noisy * p + noisy]!;
  cross.data[noisy * p + noisy]! -= error;
  const factor = choleskyFactor(cross, 1e-12);
  if (factor === null) return null;
  const estimates = Array.from(matrixTimesVector(invertFromCholesky(factor), right));
  return { estimates, reliability: (scatter - error) / scatter };
}

/** The matrix without one row and column. */
function without(a: Matrix, index: number): Matrix {
  const keep = Array.from({ length: a.rows }, (_, j) => j).filter((j) => j !== index);
  return makeMatrix(
    keep.length,
    keep.length,
    keep.flatMap((i) => keep.map((j) => a.data[i * a.cols + j]!)),
  );
}
