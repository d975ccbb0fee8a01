import { requireNumbers } from "../../core/require-numbers.js";
import { factorRow } from "../linear-algebra/small-matrix.js";

/**
 * A least-squares line whose errors may hang together along the axis: what the
 * data say about the correlation of neighbours, and how uncertain the slope is
 * under each.
 *
 * Errors one unit of `x` apart have correlation phi, those `d` apart phi^d
 * (continuous-time first-order autocorrelation); phi runs over
 * {@link serialGrid}. Sources: Jones (1993), Longitudinal Data with Serial
 * Correlation, for the structure; Harville (1974), Biometrika 61:383, for the
 * restricted likelihood, which is free of the downward bias of residual
 * correlations in short series.
 */

/** Correlations of neighbours that are weighed against each other: 0, 0.05 ... 0.9. */
export const serialGrid: readonly number[] = Array.from({ length: 19 }, (_, k) => k / 20);

export interface SerialLine {
  /** Ordinary least-squares slope. */
  readonly slope: number;
  /** n - 2. */
  readonly df: number;
  /** Variance of that slope under each correlation of {@link serialGrid}. */
  readonly variances: readonly number[];
  /** Restricted log-likelihood of each correlation, up to a constant. */
  readonly logLikelihood: readonly number[];
}

/**
 * The line through points with rising `x` (three or more).
 *
 * @example serialLine([0, 1, 2, 3], [1, 2, 4, 5]).slope // 1.4
 */
export function serialLine(x: ArrayLike<number>, y: ArrayLike<number>): SerialLine {
  requireNumbers("serialLine", "x", x);
  requireNumbers("serialLine", "y", y, x.length);
  const n = x.length;
  const { centred, residuals, slope, sxx, rss } = leastSquares(x, y);
  const weights = centred.map((d) => d / sxx);
  const exact = isExact(rss, y);
  const table = columns(n, [centred, residuals]);
  const room = roomFor(3);
  const steps = new Float64Array(n);
  const variances: number[] = [];
  const logLikelihood: number[] = [];
  for (let k = 0; k < serialGrid.length; k++) {
    neighbours(x, k, steps);
    const fit = exact ? { logLikelihood: 0, rss: 0 } : restricted(table, steps, room);
    logLikelihood.push(fit.logLikelihood);
    // Sum over i, j of w_i w_j phi^|x_i - x_j|, by recursion.
    let form = 0;
    let before = 0;
    for (let i = 0; i < n; i++) {
      const w = weights[i]!;
      if (i > 0) before = steps[i]! * (before + weights[i - 1]!);
      form += w * (w + 2 * before);
    }
    variances.push((fit.rss / (n - 2)) * Math.max(0, form));
  }
  return { slope, df: n - 2, variances, logLikelihood };
}

/**
 * Restricted log-likelihood of each correlation of {@link serialGrid} in a
 * stretch whose course is a parabola; zeros where nothing can be learnt (fewer
 * than five points, or points without scatter).
 *
 * @example serialLikelihood([0, 1, 2], [5, 6, 8])[0] // 0
 */
export function serialLikelihood(x: ArrayLike<number>, y: ArrayLike<number>): readonly number[] {
  requireNumbers("serialLikelihood", "x", x);
  requireNumbers("serialLikelihood", "y", y, x.length);
  const n = x.length;
  const nothing = serialGrid.map(() => 0);
  if (n < 5) return nothing;
  const { centred, residuals, rss } = leastSquares(x, y);
  const half = Math.max(...centred.map(Math.abs));
  if (isExact(rss, y)) return nothing;
  const t = centred.map((d) => d / half);
  const table = columns(n, [t, t.map((d) => d * d), residuals]);
  const room = roomFor(4);
  const steps = new Float64Array(n);
  const fits = serialGrid.map((_, k) => restricted(table, neighbours(x, k, steps), room));
  return isExact(fits[0]!.rss, y) ? nothing : fits.map((f) => f.logLikelihood);
}

/** A column of ones and these, one after the other. */
function columns(n: number, others: readonly (readonly number[])[]): Float64Array {
  const table = new Float64Array(n * (others.length + 1)).fill(1, 0, n);
  others.forEach((values, i) => {
    table.set(values, n * (i + 1));
  });
  return table;
}

/** Where the cross-products of one correlation after the other are summed: used again for each. */
interface Room {
  readonly cross: Float64Array;
  readonly row: Float64Array;
}

const roomFor = (width: number): Room => ({
  cross: new Float64Array(width * width),
  row: new Float64Array(width),
});

/** Scatter that is only rounding says nothing about correlation. */
function isExact(rss: number, y: ArrayLike<number>): boolean {
  let size = 0;
  for (let i = 0; i < y.length; i++) size += y[i]! * y[i]!;
  return !(rss > 1e-22 * size);
}

function leastSquares(x: ArrayLike<number>, y: ArrayLike<number>) {
  const n = x.length;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < n; i++) {
    mx += x[i]! / n;
    my += y[i]! / n;
  }
  const centred = Array.from(x, (v) => v - mx);
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += centred[i]! * centred[i]!;
    sxy += centred[i]! * (y[i]! - my);
  }
  const slope = sxy / sxx;
  const residuals = centred.map((d, i) => y[i]! - my - slope * d);
  return { centred, residuals, slope, sxx, rss: residuals.reduce((s, e) => s + e * e, 0) };
}

const logGrid = serialGrid.map(Math.log);

/** Correlation of each point with the one before it, for correlation number `k` of the grid. */
function neighbours(x: ArrayLike<number>, k: number, out: Float64Array): Float64Array {
  const log = logGrid[k]!;
  out[0] = 0;
  for (let i = 1; i < x.length; i++) out[i] = k === 0 ? 0 : Math.exp(log * (x[i]! - x[i - 1]!));
  return out;
}

/**
 * Generalised least squares of the last column on the others (columns one after
 * the other in `table`): residual sum of squares and restricted log-likelihood.
 */
function restricted(
  table: Float64Array,
  steps: Float64Array,
  { cross, row }: Room,
): { readonly logLikelihood: number; readonly rss: number } {
  const n = steps.length;
  const width = table.length / n;
  const p = width - 1;
  // Cross-products of the columns made independent by their innovations.
  cross.fill(0);
  let logDet = 0;
  for (let i = 0; i < n; i++) {
    const r = steps[i]!;
    const rest = 1 - r * r;
    const scale = 1 / Math.sqrt(rest);
    logDet += Math.log(rest);
    for (let j = 0; j < width; j++) {
      const at = j * n + i;
      const v = r === 0 ? table[at]! : (table[at]! - r * table[at - 1]!) * scale;
      row[j] = v;
      for (let k = 0; k <= j; k++) cross[j * width + k]! += v * row[k]!;
    }
  }
  // Cholesky in place; what is left of the last square is the residual sum.
  let half = 0;
  for (let j = 0; j < p; j++) half += Math.log(factorRow(cross, width, j)) / 2;
  const rss = Math.max(factorRow(cross, width, p), Number.MIN_VALUE);
  return { rss, logLikelihood: -logDet / 2 - half - ((n - p) / 2) * Math.log(rss) };
}
