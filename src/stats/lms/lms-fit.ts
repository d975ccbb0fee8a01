import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { choleskyFactor, invertFromCholesky, solveCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";

/** One of the three curves: its columns (one row per value), link and penalty. */
export interface LmsCurve {
  readonly columns: Matrix;
  readonly link: "identity" | "log";
  /** Penalty matrix times its weight; null for none. */
  readonly penalty: Matrix | null;
  /** Fixed: the coefficients are not estimated but taken from here. */
  readonly fixed?: readonly number[];
}

export interface LmsFit {
  readonly l: Float64Array;
  readonly m: Float64Array;
  readonly s: Float64Array;
  readonly coefficients: {
    readonly l: readonly number[];
    readonly m: readonly number[];
    readonly s: readonly number[];
  };
  /** Log likelihood without the penalty. */
  readonly logLikelihood: number;
  readonly penalised: number;
  /** Effective parameters of L, M and S together. */
  readonly effective: number;
  readonly iterations: number;
  readonly stoppedBy: "small gradient" | "no better step" | "out of steps" | "not positive";
}

const halfLogTwoPi = 0.9189385332046728;

/**
 * Fits a Box-Cox normal distribution whose power L, median M and coefficient of
 * variation S follow columns (for example splines), by maximum likelihood with
 * optional smoothness penalties: Fisher scoring on all three curves at once with
 * step halving. Says which criterion stopped it.
 *
 * Source: Cole and Green (1992) Stat Med 11:1305-1319, their likelihood, first
 * derivatives and expected information.
 *
 * @example
 * const one = { columns: matrixFromRows([[1], [1], [1], [1], [1]]), link: "log", penalty: null };
 * fitLms([20, 22, 25, 27, 31], { ...one, link: "identity" }, one, one).m[0] // 24.6144
 */
export function fitLms(
  y: ArrayLike<number>,
  curveL: LmsCurve,
  curveM: LmsCurve,
  curveS: LmsCurve,
  options: { readonly maxIterations?: number; readonly tolerance?: number } = {},
): LmsFit {
  requireNumbers("fitLms", "the values", y);
  const n = y.length;
  const curves = [curveL, curveM, curveS] as const;
  if (!curves.every((c) => c?.fixed !== undefined || c?.columns?.rows === n)) {
    throw new UsageError({
      needed: `three curves, each with columns of ${n} rows or a fixed start`,
      came: "another shape came",
      where: "fitLms",
      todo: "Give { columns: matrixFromColumns([...]) } for each, with one row per value.",
    });
  }
  const widths = curves.map((c) => (c.fixed === undefined ? c.columns.cols : 0));
  const offsets = [0, widths[0]!, widths[0]! + widths[1]!];
  const p = widths[0]! + widths[1]! + widths[2]!;
  const logs = Float64Array.from(y, Math.log);
  const meanLog = logs.reduce((a, b) => a + b, 0) / n;
  const sdLog = Math.sqrt(logs.reduce((a, b) => a + (b - meanLog) ** 2, 0) / n);
  const beta: number[][] = [
    curveL.fixed?.slice() ?? project(curveL, new Float64Array(n).fill(1)),
    curveM.fixed?.slice() ?? project(curveM, y),
    curveS.fixed?.slice() ?? project(curveS, new Float64Array(n).fill(Math.max(sdLog, 1e-4))),
  ];
  let state = evaluate(y, logs, curves, beta);
  if (!Number.isFinite(state.penalised)) {
    // A wild start: a constant median near the middle of the data.
    beta[1] = project(curveM, new Float64Array(n).fill(Math.exp(meanLog)));
    state = evaluate(y, logs, curves, beta);
  }
  const tolerance = options.tolerance ?? 1e-9;
  const most = options.maxIterations ?? 200;
  let stoppedBy: LmsFit["stoppedBy"] = "out of steps";
  let iterations = 0;
  let information = makeMatrix(Math.max(1, p), Math.max(1, p));
  for (; iterations < most; iterations++) {
    if (!Number.isFinite(state.penalised)) {
      stoppedBy = "not positive";
      break;
    }
    const { gradient, info } = scores(y, logs, curves, beta, state, offsets, p);
    information = info;
    const factor = choleskyFactor(info);
    if (factor === null) {
      stoppedBy = "not positive";
      break;
    }
    const step = solveCholesky(factor, gradient);
    const slope = gradient.reduce((sum, g, i) => sum + g * step[i]!, 0);
    if (slope < tolerance * Math.max(1, n)) {
      stoppedBy = "small gradient";
      if (slope < tolerance * 1e-6) break;
    }
    let t = 1;
    let next = state;
    let moved = false;
    for (let halving = 0; halving < 30; halving++) {
      const trial = beta.map((b, c) =>
        curves[c]!.fixed === undefined ? b.map((v, i) => v + t * step[offsets[c]! + i]!) : b,
      );
      next = evaluate(y, logs, curves, trial);
      if (next.penalised > state.penalised) {
        trial.forEach((b, c) => {
          beta[c] = b;
        });
        moved = true;
        break;
      }
      t /= 2;
    }
    if (!moved) {
      if (stoppedBy !== "small gradient") stoppedBy = "no better step";
      break;
    }
    state = next;
    if (stoppedBy === "small gradient" && slope < tolerance * 1e-3) break;
  }
  return {
    l: state.l,
    m: state.m,
    s: state.s,
    coefficients: { l: beta[0]!, m: beta[1]!, s: beta[2]! },
    logLikelihood: state.logLikelihood,
    penalised: state.penalised,
    effective: effectiveParameters(information, curves, offsets, p),
    iterations,
    stoppedBy,
  };
}

interface State {
  readonly l: Float64Array;
  readonly m: Float64Array;
  readonly s: Float64Array;
  readonly logLikelihood: number;
  readonly penalised: number;
}

function evaluate(
  y: ArrayLike<number>,
  logs: Float64Array,
  curves: readonly [LmsCurve, LmsCurve, LmsCurve],
  beta: readonly (readonly number[])[],
): State {
  const [l, m, s] = curves.map((c, k) => valuesOf(c, beta[k]!)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  let logLikelihood = 0;
  for (let i = 0; i < y.length; i++) {
    if (!(m[i]! > 0 && s[i]! > 0))
      return { l, m, s, logLikelihood: -Infinity, penalised: -Infinity };
    const log = logs[i]! - Math.log(m[i]!);
    const z = zOf(log, l[i]!, s[i]!);
    logLikelihood += l[i]! * log - Math.log(s[i]!) - 0.5 * z * z - logs[i]! - halfLogTwoPi;
  }
  let penalised = logLikelihood;
  curves.forEach((c, k) => {
    if (c.penalty !== null) penalised -= 0.5 * quadratic(c.penalty, beta[k]!);
  });
  return { l, m, s, logLikelihood, penalised };
}

function scores(
  y: ArrayLike<number>,
  logs: Float64Array,
  curves: readonly [LmsCurve, LmsCurve, LmsCurve],
  beta: readonly (readonly number[])[],
  state: State,
  offsets: readonly number[],
  p: number,
) {
  const gradient = new Float64Array(p);
  const info = makeMatrix(p, p);
  const first = [0, 0, 0];
  for (let i = 0; i < y.length; i++) {
    const l = state.l[i]!;
    const m = state.m[i]!;
    const s = state.s[i]!;
    const log = logs[i]! - Math.log(m);
    const z = zOf(log, l, s);
    // d/dL of the log likelihood; the quotient by L has a limit at L = 0.
    const dz =
      Math.abs(l * log) < 1e-4
        ? (log * log) / (2 * s) + (l * log ** 3) / (3 * s)
        : (((1 + l * s * z) * log) / s - z) / l;
    first[0] = log - z * dz;
    first[1] = z / (m * s) + (l * (z * z - 1)) / m;
    first[2] = (z * z - 1) / s;
    const weights = [
      [(7 * s * s) / 4, -1 / (2 * m), l * s],
      [-1 / (2 * m), (1 + 2 * l * l * s * s) / (m * m * s * s), (2 * l) / (m * s)],
      [l * s, (2 * l) / (m * s), 2 / (s * s)],
    ];
    const values = [l, m, s];
    for (let a = 0; a < 3; a++) {
      const ca = curves[a]!;
      if (ca.fixed !== undefined) continue;
      const ja = ca.link === "log" ? values[a]! : 1;
      const wa = ca.columns.cols;
      for (let u = 0; u < wa; u++) {
        const xa = ja * ca.columns.data[i * wa + u]!;
        if (xa === 0) continue;
        gradient[offsets[a]! + u]! += first[a]! * xa;
        for (let b = 0; b <= a; b++) {
          const cb = curves[b]!;
          if (cb.fixed !== undefined) continue;
          const jb = cb.link === "log" ? values[b]! : 1;
          const wb = cb.columns.cols;
          const w = weights[a]![b]! * xa * jb;
          for (let v = 0; v < wb; v++) {
            info.data[(offsets[a]! + u) * p + offsets[b]! + v]! += w * cb.columns.data[i * wb + v]!;
          }
        }
      }
    }
  }
  for (let a = 0; a < p; a++)
    for (let b = a + 1; b < p; b++) info.data[a * p + b] = info.data[b * p + a]!;
  curves.forEach((c, k) => {
    if (c.penalty === null || c.fixed !== undefined) return;
    const w = c.columns.cols;
    for (let a = 0; a < w; a++) {
      for (let b = 0; b < w; b++) {
        const value = c.penalty.data[a * w + b]!;
        gradient[offsets[k]! + a]! -= value * beta[k]![b]!;
        info.data[(offsets[k]! + a) * p + offsets[k]! + b]! += value;
      }
    }
  });
  return { gradient, info };
}

function zOf(log: number, l: number, s: number): number {
  return Math.abs(l) < 1e-150 ? log / s : Math.expm1(l * log) / (l * s);
}

function valuesOf(curve: LmsCurve, beta: readonly number[]): Float64Array {
  const { rows, cols, data } = curve.columns;
  const out = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let sum = 0;
    for (let k = 0; k < cols; k++) sum += data[i * cols + k]! * beta[k]!;
    out[i] = curve.link === "log" ? Math.exp(sum) : sum;
  }
  return out;
}

/** Least squares of the linked target on the columns, with a trace of ridge for safety. */
function project(curve: LmsCurve, target: ArrayLike<number>): number[] {
  const { rows, cols, data } = curve.columns;
  const a = makeMatrix(cols, cols);
  const b = new Float64Array(cols);
  for (let i = 0; i < rows; i++) {
    const t = curve.link === "log" ? Math.log(target[i]!) : target[i]!;
    for (let u = 0; u < cols; u++) {
      const x = data[i * cols + u]!;
      b[u]! += x * t;
      for (let v = 0; v < cols; v++) a.data[u * cols + v]! += x * data[i * cols + v]!;
    }
  }
  let trace = 0;
  for (let u = 0; u < cols; u++) trace += a.data[u * cols + u]!;
  for (let u = 0; u < cols; u++) a.data[u * cols + u]! += (1e-9 * trace) / cols;
  if (curve.penalty !== null)
    for (let k = 0; k < cols * cols; k++) a.data[k]! += 1e-9 * curve.penalty.data[k]!;
  const factor = choleskyFactor(a);
  return factor === null ? new Array<number>(cols).fill(0) : Array.from(solveCholesky(factor, b));
}

function quadratic(matrix: Matrix, v: readonly number[]): number {
  let sum = 0;
  for (let a = 0; a < matrix.rows; a++) {
    for (let b = 0; b < matrix.cols; b++) sum += v[a]! * matrix.data[a * matrix.cols + b]! * v[b]!;
  }
  return sum;
}

/** trace of (information without penalty) x (information with penalty)^-1. */
function effectiveParameters(
  information: Matrix,
  curves: readonly LmsCurve[],
  offsets: readonly number[],
  p: number,
): number {
  if (p === 0) return 0;
  const factor = choleskyFactor(information);
  if (factor === null) return p;
  const inverse = invertFromCholesky(factor);
  let lost = 0;
  curves.forEach((c, k) => {
    if (c.penalty === null || c.fixed !== undefined) return;
    const w = c.columns.cols;
    for (let a = 0; a < w; a++) {
      for (let b = 0; b < w; b++) {
        lost += c.penalty.data[a * w + b]! * inverse.data[(offsets[k]! + b) * p + offsets[k]! + a]!;
      }
    }
  });
  return p - lost;
}
