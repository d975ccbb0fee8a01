import { normalMad } from "../descriptive/mad-to-sd.js";
import { median } from "../descriptive/median.js";
import {
  fitLeastSquares,
  type LeastSquaresData,
  type LeastSquaresFit,
  type LeastSquaresModel,
  type LeastSquaresOptions,
} from "./fit-least-squares.js";

/** Huber bends the loss from square to straight; bisquare lets far rows drop out. */
export type RobustLoss = "huber" | "bisquare";

export interface RobustFit {
  readonly fit: LeastSquaresFit;
  readonly converged: boolean;
  /** Rounds of reweighting. */
  readonly rounds: number;
  /** Median absolute residual / 0.6745. */
  readonly scale: number;
  /** Weight each row ended with, 0 to 1. */
  readonly weights: number[];
  /** Covariance of the parameters, row-major; `null` where singular. */
  readonly covariance: number[] | null;
}

const tuning = { huber: 1.345, bisquare: 4.685 } as const;

/**
 * Least squares that single wild rows cannot pull away: iteratively reweighted
 * with Huber's (k = 1.345) or Tukey's bisquare (c = 4.685) weights, both 95 %
 * efficient when nothing is wild, the scale being the median absolute residual
 * over 0.6745. Starts from the residuals at `start`, which should be a sound fit
 * (the least-squares one, or one to smoothed rows). Standard errors with Huber's
 * correction.
 *
 * Source: Huber, Robust Statistics (1981), section 7.6; Venables and Ripley,
 * Modern Applied Statistics with S (2002), section 6.5 (the same figures as
 * `rlm` there for a straight line).
 *
 * @example
 * const model = { parameters: 1, evaluate: (a, values, gradient) => (values.fill(a[0]), gradient.fill(1), true) };
 * fitRobustLeastSquares(model, { y: [1, 2, 3, 4, 90] }, { start: [3], loss: "bisquare" }).fit.theta[0] // 2.5
 */
export function fitRobustLeastSquares(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: LeastSquaresOptions & { readonly loss: RobustLoss; readonly maxRounds?: number },
): RobustFit {
  const { loss, maxRounds = 500, ...plain } = options;
  const n = data.y.length;
  const own = (i: number) => data.rootWeights?.[i] ?? 1;
  // Taken as it is: a least-squares step here would let a wild row pull the start away.
  let fit = fitLeastSquares({ ...model, linear: [] }, data, { ...plain, maxIterations: 0 });
  let weights = new Array<number>(n).fill(1);
  let scale = 0;
  let converged = false;
  let rounds = 0;
  for (; rounds < maxRounds && Number.isFinite(fit.rss); rounds++) {
    const residuals = fit.values.map((value, i) => (data.y[i]! - value) * own(i));
    scale = (median(residuals.map(Math.abs)) ?? Number.NaN) / normalMad;
    if (!(scale > 1e-13 * rootMeanSquare(data.y))) {
      converged = fit.converged;
      break;
    }
    weights = residuals.map((r) => weightOf(loss, r / scale));
    const next = fitLeastSquares(
      model,
      { ...data, rootWeights: weights.map((w, i) => Math.sqrt(w) * own(i)) },
      { ...plain, start: fit.theta },
    );
    const change = Math.max(
      ...next.theta.map((to, j) => Math.abs(to - fit.theta[j]!) / (Math.abs(to) + 1e-300)),
    );
    fit = next;
    if (change < 1e-11) {
      converged = fit.converged;
      break;
    }
  }
  return {
    fit,
    converged,
    rounds,
    scale,
    weights,
    covariance: robustCovariance(model, data, fit, scale, loss, plain),
  };
}

function weightOf(loss: RobustLoss, u: number): number {
  const size = Math.abs(u);
  if (loss === "huber") return size <= tuning.huber ? 1 : tuning.huber / size;
  return size < tuning.bisquare ? (1 - (u / tuning.bisquare) ** 2) ** 2 : 0;
}

/** Derivative of psi(u) = u weight(u). */
function psiSlope(loss: RobustLoss, u: number): number {
  if (loss === "huber") return Math.abs(u) <= tuning.huber ? 1 : 0;
  const s = (u / tuning.bisquare) ** 2;
  return s < 1 ? (1 - s) * (1 - 5 * s) : 0;
}

/** (J'J)^-1 of the unweighted gradient times Huber's corrected variance. */
function robustCovariance(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  fit: LeastSquaresFit,
  scale: number,
  loss: RobustLoss,
  plain: LeastSquaresOptions,
): number[] | null {
  const n = data.y.length;
  const p = fit.freeCount;
  if (!(scale > 0) || n <= p) return null;
  // The gradient at the end, without the robust weights: an engine run that takes no step.
  const still = fitLeastSquares(
    { ...model, linear: [] },
    {
      ...(data.rootWeights === undefined ? {} : { rootWeights: data.rootWeights }),
      y: data.y,
    },
    { ...plain, start: fit.theta, maxIterations: 0 },
  );
  if (still.unscaledCovariance === null) return null;
  const u = fit.values.map(
    (value, i) => ((data.y[i]! - value) * (data.rootWeights?.[i] ?? 1)) / scale,
  );
  const square = u.reduce((sum, each) => sum + (each * weightOf(loss, each) * scale) ** 2, 0);
  const slopes = u.map((each) => psiSlope(loss, each));
  const mean = slopes.reduce((sum, each) => sum + each, 0) / n;
  const variance = slopes.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (n - 1);
  const correction = 1 + (p * variance) / (n * mean * mean);
  const factor = (square / (n - p)) * (correction / mean) ** 2;
  return Number.isFinite(factor) ? still.unscaledCovariance.map((each) => each * factor) : null;
}

function rootMeanSquare(x: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i]! * x[i]!;
  return Math.sqrt(sum / Math.max(1, x.length));
}
