import { seededRandom } from "../../core/random.js";
import { UsageError } from "../../core/usage-error.js";
import { varianceOf } from "../descriptive/describe.js";
import {
  applyQ,
  applyQTransposed,
  type HouseholderQr,
  householderQr,
} from "../linear-algebra/householder-qr.js";
import type { Matrix } from "../linear-algebra/matrix.js";

export interface QuantileRegression {
  readonly coefficients: readonly number[];
  /** Sum of tau r for r > 0 and (tau - 1) r for r < 0: what is minimised. */
  readonly loss: number;
  readonly iterations: number;
  readonly converged: boolean;
  /** False when another solution has the same loss. */
  readonly unique: boolean;
}

/**
 * Linear regression for the quantile tau: exact, by moving along the edges of the
 * loss from one interpolating solution to the next better one (simplex method with
 * a weighted-median line search). Tied data are told apart by a tiny seeded
 * perturbation that decides only which of equal solutions is taken. Source:
 * R. Koenker and G. Bassett (1978); I. Barrodale and F. Roberts (1973).
 *
 * @throws UsageError when tau is outside 0 to 1 or columns depend on each other.
 * @example quantileRegression(constant, [1, 2, 3, 10], 0.5) // coefficient 2 or 3 (not unique)
 */
export function quantileRegression(
  x: Matrix,
  y: ArrayLike<number>,
  tau: number,
  options: { readonly maxIterations?: number } = {},
): QuantileRegression {
  const { rows: n, cols: p } = x;
  const { maxIterations = 200 * p + 20 * n } = options;
  const qr = householderQr(x);
  if (!(tau > 0 && tau < 1) || qr.rank < p) {
    throw new UsageError({
      needed: "tau between 0 and 1 and columns that do not depend on each other",
      came: `tau ${tau}, ${p} columns of rank ${qr.rank}`,
      where: "quantileRegression",
      todo: "Drop the dependent columns.",
    });
  }
  const random = seededRandom(20260101);
  const size = Math.sqrt(varianceOf(y)) || 1;
  const z = Float64Array.from(y, (v) => v + 1e-10 * size * (random.uniform() - 0.5));
  let basis = firstBasis(x, leastSquaresResiduals(qr, y));
  let inverse = invertRows(x, basis)!;
  let iterations = 0;
  let converged = false;
  let unique = true;
  const residuals = new Float64Array(n);
  while (iterations < maxIterations) {
    const beta = timesRows(
      inverse,
      basis.map((i) => z[i]!),
      p,
    );
    const inside = new Set(basis);
    const g = new Float64Array(p);
    for (let i = 0; i < n; i++) {
      let f = 0;
      for (let j = 0; j < p; j++) f += x.data[i * p + j]! * beta[j]!;
      residuals[i] = inside.has(i) ? 0 : z[i]! - f;
      if (inside.has(i)) continue;
      const psi = residuals[i]! < 0 ? tau - 1 : tau;
      for (let j = 0; j < p; j++) g[j]! += psi * x.data[i * p + j]!;
    }
    // Multipliers of the interpolated rows; outside [tau - 1, tau] an edge leads down.
    let leave = -1;
    let worst = 1e-10;
    let sign = 1;
    unique = true;
    for (let k = 0; k < p; k++) {
      let l = 0;
      for (let j = 0; j < p; j++) l -= inverse[j * p + k]! * g[j]!;
      if (Math.abs(l - tau) < 1e-9 || Math.abs(l - tau + 1) < 1e-9) unique = false;
      if (l - tau > worst) [worst, leave, sign] = [l - tau, k, -1];
      if (tau - 1 - l > worst) [worst, leave, sign] = [tau - 1 - l, k, 1];
    }
    if (leave < 0) {
      converged = true;
      break;
    }
    iterations++;
    const direction = Float64Array.from({ length: p }, (_, j) => sign * inverse[j * p + leave]!);
    const enter = lineSearch(x, residuals, inside, direction, worst);
    if (enter < 0) break;
    basis = basis.map((i, k) => (k === leave ? enter : i));
    const next = invertRows(x, basis);
    if (next === null) break;
    inverse = next;
  }
  const coefficients = Array.from(
    timesRows(
      inverse,
      basis.map((i) => y[i]!),
      p,
    ),
  );
  return {
    coefficients,
    loss: quantileLoss(x, y, coefficients, tau),
    iterations,
    converged,
    unique,
  };
}

/** Sum of tau r for r > 0 and (tau - 1) r for r < 0. */
export function quantileLoss(
  x: Matrix,
  y: ArrayLike<number>,
  beta: ArrayLike<number>,
  tau: number,
): number {
  let s = 0;
  for (let i = 0; i < x.rows; i++) {
    let r = y[i]!;
    for (let j = 0; j < x.cols; j++) r -= x.data[i * x.cols + j]! * beta[j]!;
    s += r < 0 ? (tau - 1) * r : tau * r;
  }
  return s;
}

/** The row whose residual is passed when the loss stops falling along the direction. */
function lineSearch(
  x: Matrix,
  residuals: Float64Array,
  inside: ReadonlySet<number>,
  direction: Float64Array,
  slope: number,
): number {
  const p = x.cols;
  const crossings: { at: number; row: number; gain: number }[] = [];
  for (let i = 0; i < x.rows; i++) {
    if (inside.has(i)) continue;
    let d = 0;
    for (let j = 0; j < p; j++) d += x.data[i * p + j]! * direction[j]!;
    const at = residuals[i]! / d;
    if (at > 0 && Number.isFinite(at) && Math.abs(d) > 1e-13) {
      crossings.push({ at, row: i, gain: Math.abs(d) });
    }
  }
  crossings.sort((a, b) => a.at - b.at);
  let left = slope;
  for (const c of crossings) {
    left -= c.gain;
    if (left <= 1e-14) return c.row;
  }
  return -1;
}

function leastSquaresResiduals(qr: HouseholderQr, y: ArrayLike<number>): Float64Array {
  const effects = applyQTransposed(qr, y);
  effects.fill(0, 0, qr.rank);
  return applyQ(qr, effects);
}

/** p rows with small residuals whose x are independent. */
function firstBasis(x: Matrix, residuals: Float64Array): number[] {
  const p = x.cols;
  const order = Array.from(residuals, (_, i) => i).sort(
    (i, j) => Math.abs(residuals[i]!) - Math.abs(residuals[j]!),
  );
  const basis: number[] = [];
  const directions: Float64Array[] = [];
  for (const i of order) {
    const v = Float64Array.from(x.data.subarray(i * p, (i + 1) * p));
    const length = Math.hypot(...v);
    for (let round = 0; round < 2; round++) {
      for (const d of directions) {
        const s = d.reduce((t, a, j) => t + a * v[j]!, 0);
        for (let j = 0; j < p; j++) v[j]! -= s * d[j]!;
      }
    }
    const left = Math.hypot(...v);
    if (!(left > 1e-8 * length)) continue;
    directions.push(v.map((a) => a / left));
    basis.push(i);
    if (basis.length === p) break;
  }
  return basis;
}

/** Inverse of the p rows of x, by elimination with pivoting; `null` when singular. */
function invertRows(x: Matrix, rows: readonly number[]): Float64Array | null {
  const p = x.cols;
  const a = new Float64Array(p * p);
  const b = new Float64Array(p * p);
  rows.forEach((i, k) => {
    for (let j = 0; j < p; j++) a[k * p + j] = x.data[i * p + j]!;
    b[k * p + k] = 1;
  });
  for (let c = 0; c < p; c++) {
    let best = c;
    for (let r = c + 1; r < p; r++)
      if (Math.abs(a[r * p + c]!) > Math.abs(a[best * p + c]!)) best = r;
    const pivot = a[best * p + c]!;
    if (!(Math.abs(pivot) > 0)) return null;
    for (let j = 0; j < p; j++) {
      for (const m of [a, b]) {
        const kept = m[c * p + j]!;
        m[c * p + j] = m[best * p + j]!;
        m[best * p + j] = kept;
        m[c * p + j]! /= pivot;
      }
    }
    for (let r = 0; r < p; r++) {
      if (r === c) continue;
      const f = a[r * p + c]!;
      if (f === 0) continue;
      for (let j = 0; j < p; j++) {
        a[r * p + j]! -= f * a[c * p + j]!;
        b[r * p + j]! -= f * b[c * p + j]!;
      }
    }
  }
  return b;
}

function timesRows(inverse: Float64Array, values: readonly number[], p: number): Float64Array {
  return Float64Array.from({ length: p }, (_, j) => {
    let s = 0;
    for (let k = 0; k < p; k++) s += inverse[j * p + k]! * values[k]!;
    return s;
  });
}
