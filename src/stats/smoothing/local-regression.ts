import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { quantile } from "../descriptive/quantile.js";
import { applyQ, householderQr } from "../linear-algebra/householder-qr.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { finiteValues } from "../numeric/finite-values.js";

export interface LocalRegressionOptions {
  /** Share of the points in each neighbourhood; default 0.75. */
  readonly span?: number;
  /** Degree of the local polynomial; default 2. */
  readonly degree?: 0 | 1 | 2;
  /** Rounds of down-weighting far points (bisquare); default 0. */
  readonly robustRounds?: number;
}

export interface LocalRegression {
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  /** Residual standard deviation and its look-up degrees of freedom. */
  readonly residualSd: number | null;
  readonly df: number | null;
  /** Trace of the smoother. */
  readonly trace: number;
  readonly at: (x: number) => { readonly value: number | null; readonly se: number | null };
}

/**
 * Local polynomial regression with tricube weights, computed exactly at every
 * point. Costs n^2: for some thousands of points at most. Source: W. S. Cleveland
 * and S. J. Devlin (1988).
 *
 * @throws UsageError for fewer points than a neighbourhood needs.
 * @example localRegression([1, 2, 3, 4, 5, 6, 7, 8], [2, 4, 6, 8, 10, 12, 14, 16]).at(4.5).value // 9
 */
export function localRegression(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: LocalRegressionOptions = {},
): LocalRegression {
  const { span = 0.75, degree = 2, robustRounds = 0 } = options;
  requireList("localRegression", "x", x);
  requireList("localRegression", "y", y);
  const n = x.length;
  const near = Math.min(n, Math.floor(n * span + 1e-5));
  if (
    finiteValues(Array.from(x)).length < n ||
    finiteValues(Array.from(y)).length < n ||
    y.length !== n ||
    near < degree + 2
  ) {
    throw new UsageError({
      needed: `finite pairs and at least ${degree + 2} of them in a neighbourhood`,
      came: `${n} pairs with ${near} in a neighbourhood`,
      where: "localRegression",
      todo: "Widen the span or leave incomplete pairs out, with a count.",
    });
  }
  let robust = new Float64Array(n).fill(1);
  let rows = operatorRows(x, x, near, span, degree, robust);
  let fitted = applyRows(rows, y);
  for (let round = 0; round < robustRounds; round++) {
    const r = Float64Array.from(fitted, (f, i) => Math.abs(y[i]! - f));
    const scale = 6 * quantile(r, 0.5)!;
    if (!(scale > 0)) break;
    robust = r.map((v) =>
      v <= 0.001 * scale ? 1 : v < 0.999 * scale ? (1 - (v / scale) ** 2) ** 2 : 0,
    );
    rows = operatorRows(x, x, near, span, degree, robust);
    fitted = applyRows(rows, y);
  }
  const residuals = Float64Array.from(fitted, (f, i) => y[i]! - f);
  const { delta1, delta2, trace } = deltas(rows);
  const rss = residuals.reduce((s, r, i) => s + robust[i]! * r * r, 0);
  const residualSd = delta1 > 0 ? Math.sqrt(rss / delta1) : null;
  return {
    fitted,
    residuals,
    residualSd,
    df: delta2 > 0 ? delta1 ** 2 / delta2 : null,
    trace,
    at: (place) => {
      const [row] = operatorRows(x, [place], near, span, degree, robust);
      const value = row!.reduce((s, l, i) => s + l * y[i]!, 0);
      if (!Number.isFinite(value)) return { value: null, se: null };
      const length = Math.sqrt(row!.reduce((s, l) => s + l * l, 0));
      return { value, se: residualSd === null ? null : residualSd * length };
    },
  };
}

/** For each place the weights with which the y enter the fit there. */
function operatorRows(
  x: ArrayLike<number>,
  places: ArrayLike<number>,
  near: number,
  span: number,
  degree: number,
  robust: Float64Array,
): Float64Array[] {
  const n = x.length;
  return Array.from(places, (place) => {
    const distance = Float64Array.from(x, (v) => Math.abs(v - place));
    const reach = distance.slice().sort()[near - 1]! * Math.max(1, span);
    const inside: number[] = [];
    const root: number[] = [];
    for (let i = 0; i < n; i++) {
      const d = distance[i]! / reach;
      const w = reach > 0 ? (d < 1 ? (1 - d ** 3) ** 3 : 0) : distance[i] === 0 ? 1 : 0;
      if (w * robust[i]! <= 0) continue;
      inside.push(i);
      root.push(Math.sqrt(w * robust[i]!));
    }
    const out = new Float64Array(n);
    const local = makeMatrix(inside.length, degree + 1);
    inside.forEach((i, k) => {
      for (let j = 0; j <= degree; j++) {
        local.data[k * (degree + 1) + j] = root[k]! * ((x[i]! - place) / (reach || 1)) ** j;
      }
    });
    // The fit at the place is the constant: e1'(X'WX)^-1 X'W y.
    const qr = householderQr(local);
    const unit = new Float64Array(inside.length);
    const rank = qr.rank;
    // Solve R' v = e (constant's position), then the row is Q v.
    const position = qr.pivot.indexOf(0);
    if (position >= rank) return out.fill(Number.NaN);
    for (let c = 0; c < rank; c++) {
      let s = c === position ? 1 : 0;
      for (let r = 0; r < c; r++) s -= qr.packed.data[r * (degree + 1) + c]! * unit[r]!;
      unit[c] = s / qr.packed.data[c * (degree + 1) + c]!;
    }
    const v = applyQ(qr, unit);
    inside.forEach((i, k) => {
      out[i] = v[k]! * root[k]!;
    });
    return out;
  });
}

function applyRows(rows: readonly Float64Array[], y: ArrayLike<number>): Float64Array {
  return Float64Array.from(rows, (row) => row.reduce((s, l, i) => s + l * y[i]!, 0));
}

/** Traces of M = (I - L)'(I - L) and of its square, and of L. */
function deltas(rows: readonly Float64Array[]): { delta1: number; delta2: number; trace: number } {
  const n = rows.length;
  const off = rows.map((row, i) => row.map((l, j) => (i === j ? 1 : 0) - l));
  let delta1 = 0;
  let delta2 = 0;
  let trace = 0;
  for (let i = 0; i < n; i++) {
    trace += rows[i]![i]!;
    for (let j = 0; j <= i; j++) {
      // (I - L)(I - L)' has the same traces.
      let s = 0;
      for (let k = 0; k < n; k++) s += off[i]![k]! * off[j]![k]!;
      if (i === j) delta1 += s;
      delta2 += (i === j ? 1 : 2) * s * s;
    }
  }
  return { delta1, delta2, trace };
}
