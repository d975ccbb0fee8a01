import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { minimiseOnInterval } from "../numeric/minimise-on-interval.js";
import type { CubicCurve } from "./cubic-curve.js";
import { slopesFromBends } from "./interpolate.js";

export interface SmoothingSplineOptions {
  readonly weights?: ArrayLike<number>;
  /** Penalty on the squared second derivative, x taken to run from 0 to 1. */
  readonly penalty?: number;
  /** Or: the equivalent number of parameters wished. */
  readonly df?: number;
  /** Or: how the penalty is chosen; default generalised cross-validation. */
  readonly choose?: "generalised-cross-validation" | "leave-one-out";
}

export interface SmoothingSpline {
  readonly curve: CubicCurve;
  readonly penalty: number;
  /** Equivalent number of parameters: the trace of the smoother. */
  readonly df: number;
  /** At the distinct x. */
  readonly fitted: readonly number[];
  readonly leverage: readonly number[];
  /** Weighted squares of all values about the curve. */
  readonly rss: number;
  /** Residual standard deviation, rss / (n - df). */
  readonly residualSd: number | null;
  readonly n: number;
  /** The penalty chosen lies at the end of what was searched: a straight line or an interpolation. */
  readonly atEnd: boolean;
}

/**
 * Cubic smoothing spline: minimises weighted squares plus penalty x integral of the
 * squared second derivative. Values at the same x are averaged. Reinsch's banded
 * form, time proportional to n. Source: Green and Silverman (1994), chapters 2, 3.
 *
 * @throws UsageError for fewer than four distinct x or a number that is not finite.
 * @example smoothingSpline([1, 2, 3, 4, 5], [2, 4, 6, 8, 10], { penalty: 1 }).fitted[2] // 6
 */
export function smoothingSpline(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: SmoothingSplineOptions = {},
): SmoothingSpline {
  const data = distinct(x, y, options.weights);
  const n = data.x.length;
  const { choose = "generalised-cross-validation", df, penalty } = options;
  if (penalty !== undefined) return finish(data, penalty, false);
  if (df !== undefined && !(df > 2 && df < n)) {
    throw new UsageError({
      needed: `df above 2 and below the ${n} distinct x`,
      came: `${df} came`,
      where: "smoothingSpline",
      todo: "Ask for fewer parameters than there are places.",
    });
  }
  const criterion = (logPenalty: number) => {
    const s = solve(data, 10 ** logPenalty);
    if (df !== undefined) return (s.df - df) ** 2;
    let rss = data.within;
    for (let i = 0; i < n; i++) {
      const r = data.y[i]! - s.fitted[i]!;
      const free = choose === "leave-one-out" ? (1 - s.leverage[i]!) ** 2 : 1;
      rss += (data.w[i]! * r * r) / free;
    }
    return choose === "leave-one-out" ? rss : rss / (1 - s.df / data.total) ** 2;
  };
  const found = minimiseOnInterval(criterion, -9, 4, { scan: 60, tolerance: 1e-9 });
  return finish(data, 10 ** found.x, found.atEnd);
}

interface Distinct {
  readonly x: number[];
  readonly y: number[];
  readonly w: number[];
  /** Squares of tied values about their means. */
  readonly within: number;
  /** Number of values. */
  readonly total: number;
}

function distinct(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights: ArrayLike<number> | undefined,
): Distinct {
  requireList("smoothingSpline", "x", x);
  requireList("smoothingSpline", "y", y);
  if (weights !== undefined) requireList("smoothingSpline", "weights", weights);
  const order = Array.from({ length: x.length }, (_, i) => i).sort((i, j) => x[i]! - x[j]!);
  const out = { x: [] as number[], y: [] as number[], w: [] as number[] };
  let within = 0;
  const share =
    weights === undefined ? 1 : x.length / Array.from(weights).reduce((s, v) => s + v, 0);
  for (const i of order) {
    const w = weights === undefined ? 1 : weights[i]! * share;
    if (!Number.isFinite(x[i]! + y[i]!) || !(w > 0) || !Number.isFinite(w)) {
      throw new UsageError({
        needed: "finite x, y and weights above 0",
        came: `row ${i}: ${x[i]}, ${y[i]}, ${w}`,
        where: "smoothingSpline",
        todo: "Leave incomplete rows out, with a count.",
      });
    }
    const k = out.x.length - 1;
    if (k >= 0 && out.x[k] === x[i]) {
      const before = out.w[k]!;
      const d = y[i]! - out.y[k]!;
      out.w[k] = before + w;
      out.y[k]! += (d * w) / (before + w);
      within += (d * d * before * w) / (before + w);
    } else {
      out.x.push(x[i]!);
      out.y.push(y[i]!);
      out.w.push(w);
    }
  }
  if (out.x.length >= 4) return { ...out, within, total: x.length };
  throw new UsageError({
    needed: "at least four distinct x",
    came: `${out.x.length} came`,
    where: "smoothingSpline",
    todo: "Use a straight line for so few places.",
  });
}

interface Solved {
  readonly fitted: number[];
  readonly leverage: number[];
  /** Second derivatives at the distinct x. */
  readonly bend: number[];
  readonly df: number;
}

/** (R + a Q'W^-1 Q) gamma = Q'y, fitted = y - a W^-1 Q gamma; leverages from the central bands of the inverse. */
function solve({ x, y, w }: Distinct, penalty: number): Solved {
  const n = x.length;
  const m = n - 2;
  const a = penalty * (x[n - 1]! - x[0]!) ** 3;
  const h = Array.from({ length: n - 1 }, (_, i) => x[i + 1]! - x[i]!);
  /** Column k of Q: its entries at rows k, k + 1, k + 2. */
  const q = Array.from({ length: m }, (_, k) => [
    1 / h[k]!,
    -1 / h[k]! - 1 / h[k + 1]!,
    1 / h[k + 1]!,
  ]);
  const cross = (k: number, shift: number) => {
    let s = 0;
    for (let r = shift; r < 3; r++) s += (q[k]![r]! * q[k + shift]![r - shift]!) / w[k + r]!;
    return a * s;
  };
  // LDL' of the banded matrix: d diagonal, l1 and l2 the two lower bands.
  const d = new Float64Array(m);
  const l1 = new Float64Array(m + 2);
  const l2 = new Float64Array(m + 2);
  const z = new Float64Array(m);
  for (let k = 0; k < m; k++) {
    let diagonal = (h[k]! + h[k + 1]!) / 3 + cross(k, 0);
    if (k > 0) diagonal -= l1[k - 1]! ** 2 * d[k - 1]!;
    if (k > 1) diagonal -= l2[k - 2]! ** 2 * d[k - 2]!;
    d[k] = diagonal;
    if (k + 1 < m) {
      let below = h[k + 1]! / 6 + cross(k, 1);
      if (k > 0) below -= l1[k - 1]! * l2[k - 1]! * d[k - 1]!;
      l1[k] = below / diagonal;
    }
    if (k + 2 < m) l2[k] = cross(k, 2) / diagonal;
    z[k] = q[k]![0]! * y[k]! + q[k]![1]! * y[k + 1]! + q[k]![2]! * y[k + 2]!;
    if (k > 0) z[k]! -= l1[k - 1]! * z[k - 1]!;
    if (k > 1) z[k]! -= l2[k - 2]! * z[k - 2]!;
  }
  const gamma = new Float64Array(m + 2);
  // Central bands of the inverse: b0 diagonal, b1, b2 beside it.
  const b0 = new Float64Array(m + 2);
  const b1 = new Float64Array(m + 2);
  const b2 = new Float64Array(m + 2);
  for (let k = m - 1; k >= 0; k--) {
    gamma[k] = z[k]! / d[k]! - l1[k]! * gamma[k + 1]! - l2[k]! * gamma[k + 2]!;
    b2[k] = k + 2 < m ? -l1[k]! * b1[k + 1]! - l2[k]! * b0[k + 2]! : 0;
    b1[k] = k + 1 < m ? -l1[k]! * b0[k + 1]! - l2[k]! * b1[k + 1]! : 0;
    b0[k] = 1 / d[k]! - l1[k]! * b1[k]! - l2[k]! * b2[k]!;
  }
  const fitted: number[] = [];
  const leverage: number[] = [];
  let df = 0;
  for (let i = 0; i < n; i++) {
    // Row i of Q touches columns i - 2, i - 1, i.
    const row: [number, number][] = [];
    for (let k = Math.max(0, i - 2); k <= Math.min(m - 1, i); k++) row.push([k, q[k]![i - k]!]);
    let lift = 0;
    let spread = 0;
    for (const [k, v] of row) {
      lift += v * gamma[k]!;
      for (const [j, u] of row) {
        const low = Math.min(j, k);
        const apart = Math.abs(j - k);
        spread += v * u * (apart === 0 ? b0[low]! : apart === 1 ? b1[low]! : b2[low]!);
      }
    }
    fitted.push(y[i]! - (a * lift) / w[i]!);
    leverage.push(1 - (a * spread) / w[i]!);
    df += leverage[i]!;
  }
  return { fitted, leverage, bend: [0, ...gamma.subarray(0, m), 0], df };
}

function finish(data: Distinct, penalty: number, atEnd: boolean): SmoothingSpline {
  const { fitted, leverage, bend, df } = solve(data, penalty);
  const h = Array.from({ length: data.x.length - 1 }, (_, i) => data.x[i + 1]! - data.x[i]!);
  const rise = h.map((w, i) => (fitted[i + 1]! - fitted[i]!) / w);
  const rss = fitted.reduce((s, f, i) => s + data.w[i]! * (data.y[i]! - f) ** 2, data.within);
  return {
    curve: { knots: data.x, values: fitted, slopes: slopesFromBends(h, rise, bend) },
    penalty,
    df,
    fitted,
    leverage,
    rss,
    residualSd: data.total > df ? Math.sqrt(rss / (data.total - df)) : null,
    n: data.total,
    atEnd,
  };
}
