import { applyQ, applyQTransposed, type HouseholderQr } from "../linear-algebra/householder-qr.js";
import type { Matrix } from "../linear-algebra/matrix.js";
import { ExactSum } from "../numeric/exact-product.js";

export interface RefinedLeastSquares {
  readonly coefficients: (number | null)[];
  readonly residuals: Float64Array;
  readonly rounds: number;
  readonly settled: boolean;
}

/**
 * Sharpens a least-squares solution: coefficients and residual are corrected
 * together (they solve one augmented system), with the defects summed in doubled
 * precision. Source: A. Bjorck, Iterative refinement of linear least squares
 * solutions (1967). Above a million entries the solution is returned as it is.
 */
export function refineLeastSquares(
  a: Matrix,
  qr: HouseholderQr,
  y: ArrayLike<number>,
  start: readonly (number | null)[],
): RefinedLeastSquares {
  const { rows: n, cols: p } = a;
  const kept = qr.pivot.slice(0, qr.rank);
  const x = Float64Array.from(start, (v) => v ?? 0);
  const r = new Float64Array(n);
  for (let i = 0; i < n; i++) r[i] = defectOfRow(a, i, x, kept, y[i]!, 0);
  const done = (rounds: number, settled: boolean): RefinedLeastSquares => ({
    coefficients: start.map((v, j) => (v === null ? null : x[j]!)),
    residuals: r,
    rounds,
    settled,
  });
  if (n * p > 1e6 || qr.rank === 0) return done(0, true);
  let last = Number.POSITIVE_INFINITY;
  for (let round = 1; round <= 10; round++) {
    const f = new Float64Array(n);
    for (let i = 0; i < n; i++) f[i] = defectOfRow(a, i, x, kept, y[i]!, r[i]!);
    const g = kept.map((j) => {
      const s = new ExactSum();
      for (let i = 0; i < n; i++) s.addProduct(-a.data[i * p + j]!, r[i]!);
      return s.value;
    });
    const { dx, dr } = solveAugmented(qr, f, g);
    let change = 0;
    kept.forEach((j, k) => {
      change = Math.max(change, Math.abs(dx[k]!) / (Math.abs(x[j]!) || 1));
    });
    // Corrections that grow mean the system is beyond what doubled precision can mend.
    if (!(change < 0.5 * last)) return done(round - 1, last < 1e-10);
    kept.forEach((j, k) => {
      x[j]! += dx[k]!;
    });
    for (let i = 0; i < n; i++) r[i]! += dr[i]!;
    if (change < 1e-15) return done(round, true);
    last = change;
  }
  return done(10, last < 1e-10);
}

/** y_i - r_i - a_i x in doubled precision. */
function defectOfRow(
  a: Matrix,
  i: number,
  x: Float64Array,
  kept: readonly number[],
  y: number,
  r: number,
): number {
  const s = new ExactSum().add(y).add(-r);
  for (const j of kept) s.addProduct(-a.data[i * a.cols + j]!, x[j]!);
  return s.value;
}

/** Solves [I A; A' 0][dr; dx] = [f; g] with the factorisation of A. */
function solveAugmented(
  qr: HouseholderQr,
  f: Float64Array,
  g: readonly number[],
): { dx: Float64Array; dr: Float64Array } {
  const { packed, rank } = qr;
  const p = packed.cols;
  // R' h = g.
  const h = new Float64Array(rank);
  for (let i = 0; i < rank; i++) {
    let s = g[i]!;
    for (let k = 0; k < i; k++) s -= packed.data[k * p + i]! * h[k]!;
    h[i] = s / packed.data[i * p + i]!;
  }
  const d = applyQTransposed(qr, f);
  // R dx = d1 - h, dr = Q [h; d2].
  const dx = new Float64Array(rank);
  for (let i = rank - 1; i >= 0; i--) {
    let s = d[i]! - h[i]!;
    for (let k = i + 1; k < rank; k++) s -= packed.data[i * p + k]! * dx[k]!;
    dx[i] = s / packed.data[i * p + i]!;
  }
  for (let i = 0; i < rank; i++) d[i] = h[i]!;
  return { dx, dr: applyQ(qr, d) };
}
