import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { applyQ, householderQr } from "../linear-algebra/householder-qr.js";
import { type Matrix, makeMatrix, multiplyMatrices } from "../linear-algebra/matrix.js";

export interface SplineKnots {
  /** Interior knots, ascending. */
  readonly knots: readonly number[];
  readonly boundary: readonly [number, number];
  /** Degree of the pieces; default 3. */
  readonly degree?: number;
}

/**
 * B-spline basis at the points x: one row per point and knots + degree + 1 columns
 * that add up to 1. Outside the boundary the end pieces are continued. Source:
 * C. de Boor, A Practical Guide to Splines (1978).
 *
 * @throws UsageError when knots are not ascending inside the boundary.
 * @example bSplineBasis([0.5], { knots: [], boundary: [0, 1], degree: 1 }).data[0] // 0.5
 */
export function bSplineBasis(x: ArrayLike<number>, spline: SplineKnots, derivative = 0): Matrix {
  requireNumbers("bSplineBasis", "x", x);
  const { degree = 3 } = spline;
  const t = extendedKnots(spline, degree);
  const count = t.length - degree - 1;
  const out = makeMatrix(x.length, count);
  for (let i = 0; i < x.length; i++) {
    const piece = pieceOf(t, degree, count, x[i]!);
    const values = localBasis(t, degree, piece, x[i]!, derivative);
    values.forEach((v, k) => {
      out.data[i * count + piece - degree + k] = v;
    });
  }
  return out;
}

/**
 * Natural cubic spline basis: pieces of degree 3 whose second derivative is 0 at
 * the boundary, continued as straight lines outside. knots + 2 columns that span
 * the constant and the straight line. Columns are one choice of many: compare fits.
 *
 * @example naturalSplineBasis([0, 1], { knots: [0.5], boundary: [0, 1] }).cols // 3
 */
export function naturalSplineBasis(
  x: ArrayLike<number>,
  spline: Omit<SplineKnots, "degree">,
): Matrix {
  requireNumbers("naturalSplineBasis", "x", x);
  requireNumbers("naturalSplineBasis", "the boundary", spline.boundary, 2);
  requireNumbers("naturalSplineBasis", "knots", spline.knots);
  const [low, high] = spline.boundary;
  const bends = bSplineBasis([low, high], spline, 2);
  const p = bends.cols;
  // The directions without bend at the ends: the last p - 2 columns of Q of the
  // transposed bend conditions.
  const conditions = makeMatrix(p, 2);
  for (let j = 0; j < p; j++) {
    conditions.data[j * 2] = bends.data[j]!;
    conditions.data[j * 2 + 1] = bends.data[p + j]!;
  }
  const qr = householderQr(conditions);
  const free = makeMatrix(p, p - 2);
  for (let k = 0; k < p - 2; k++) {
    const unit = new Float64Array(p);
    unit[k + 2] = 1;
    applyQ(qr, unit).forEach((v, j) => {
      free.data[j * (p - 2) + k] = v;
    });
  }
  const inside = Array.from(x, (v) => Math.min(high, Math.max(low, v)));
  const basis = bSplineBasis(inside, spline);
  const slopes = bSplineBasis(inside, spline, 1);
  for (let i = 0; i < x.length; i++) {
    const beyond = x[i]! - inside[i]!;
    if (beyond === 0) continue;
    for (let j = 0; j < p; j++) basis.data[i * p + j]! += beyond * slopes.data[i * p + j]!;
  }
  return multiplyMatrices(basis, free);
}

function extendedKnots({ knots, boundary }: SplineKnots, degree: number): number[] {
  requireNumbers("bSplineBasis", "the boundary", boundary, 2);
  requireNumbers("bSplineBasis", "knots", knots);
  const [low, high] = boundary;
  const inner = [low, ...knots, high];
  if (
    !inner.every(
      (k, i) => i === 0 || (i < inner.length - 1 ? k >= inner[i - 1]! : k > inner[i - 1]!),
    ) ||
    !(high > low) ||
    (knots[0] ?? high) <= low
  ) {
    throw new UsageError({
      needed: "ascending knots inside the boundary",
      came: `${inner.join(", ")}`,
      where: "bSplineBasis",
      todo: "Sort the knots and widen the boundary.",
    });
  }
  return [...new Array(degree).fill(low), low, ...knots, high, ...new Array(degree).fill(high)];
}

/** The knot interval a point belongs to (the end ones for points outside). */
function pieceOf(t: readonly number[], degree: number, count: number, x: number): number {
  let piece = degree;
  while (piece < count - 1 && x >= t[piece + 1]!) piece++;
  return piece;
}

/** The degree + 1 basis functions that are not 0 on a piece, or a derivative of them. */
function localBasis(
  t: readonly number[],
  degree: number,
  piece: number,
  x: number,
  derivative: number,
): Float64Array {
  if (derivative > degree) return new Float64Array(degree + 1);
  const low = degree - derivative;
  let values = new Float64Array([1]);
  for (let d = 1; d <= degree; d++) {
    const next = new Float64Array(d + 1);
    for (let k = 0; k < d; k++) {
      const left = t[piece - d + 1 + k]!;
      const right = t[piece + 1 + k]!;
      const width = right - left;
      if (d <= low) {
        // Value recursion.
        next[k]! += ((right - x) / width) * values[k]!;
        next[k + 1]! += ((x - left) / width) * values[k]!;
      } else {
        // Differentiation raises the degree: d (B_k - B_k+1) / width.
        next[k]! -= (d / width) * values[k]!;
        next[k + 1]! += (d / width) * values[k]!;
      }
    }
    values = next;
  }
  return values;
}
