import { type Notice, notice } from "../core/notice.js";
import type { LeastSquaresFit } from "../stats/least-squares/fit-least-squares.js";
import { fitRobustLeastSquares, type RobustLoss } from "../stats/least-squares/robust.js";
import { fitSerialLeastSquares } from "../stats/least-squares/serial.js";
import type { CurveNumbers } from "./curve-fit-value.js";
import {
  type CurveNumbersOptions,
  type CurvePoints,
  curveModel,
  fitCurveNumbers,
} from "./curve-numbers.js";
import type { GrowthCurve } from "./growth-curve.js";

export interface FoundNumbers {
  readonly numbers: CurveNumbers;
  readonly converged: boolean;
  readonly carry?: Float64Array;
}

function engineOptions(options: CurveNumbersOptions, start: readonly number[]) {
  const { fixed, lower, upper } = options;
  return {
    start,
    tolerance: 1e-9,
    ...(fixed === undefined ? {} : { fixed: fixed.map((each) => each !== undefined) }),
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
  };
}

/**
 * A robust fit, from the least-squares one and from one to masses smoothed by
 * running medians of three (in which single wild weighings are gone); the one
 * with the smaller scale is kept. It has no likelihood and so no AICc.
 */
export function fitRobustNumbers(
  curve: GrowthCurve,
  points: CurvePoints,
  constants: readonly number[],
  options: CurveNumbersOptions,
  plain: LeastSquaresFit,
  loss: RobustLoss,
): FoundNumbers {
  const model = curveModel(curve, points.t, constants);
  const { rootWeights } = points;
  const data = { y: points.w, ...(rootWeights === undefined ? {} : { rootWeights }) };
  const smooth = fitCurveNumbers(
    curve,
    { ...points, w: runningMedians(points.w) },
    constants,
    options,
  );
  const starts = [plain, smooth].flatMap((each) => (each?.converged === true ? [each.theta] : []));
  const found = starts
    .map((start) => fitRobustLeastSquares(model, data, { ...engineOptions(options, start), loss }))
    .sort((a, b) => Number(b.converged) - Number(a.converged) || a.scale - b.scale)[0];
  if (found === undefined) return { numbers: { fit: plain }, converged: false };
  return {
    numbers: {
      fit: found.fit,
      covariance: found.covariance,
      logLikelihood: Number.NaN,
      robust: { loss, scale: found.scale, weights: found.weights },
    },
    converged: found.converged,
  };
}

function runningMedians(w: Float64Array): Float64Array {
  const n = w.length;
  return w.map((_, i) => {
    const at = Math.min(Math.max(1, i), n - 2);
    const three = [w[at - 1] ?? w[i]!, w[at] ?? w[i]!, w[at + 1] ?? w[i]!].sort((a, b) => a - b);
    return three[1]!;
  });
}

/** A fit with serial errors, from the independent one. */
export function fitSerialNumbers(
  curve: GrowthCurve,
  points: CurvePoints,
  constants: readonly number[],
  options: CurveNumbersOptions,
  plain: LeastSquaresFit,
  notices: Notice[],
): FoundNumbers {
  const model = curveModel(curve, points.t, constants);
  const { rootWeights } = points;
  const found = fitSerialLeastSquares(
    model,
    { y: points.w, ...(rootWeights === undefined ? {} : { rootWeights }) },
    points.t,
    engineOptions(options, plain.theta),
  );
  if (found === null) {
    notices.push(notice("growth-serial-not-fitted", "problem", { curve: curve.title }));
    return { numbers: { fit: plain }, converged: false };
  }
  if (found.edge === "inseparable") {
    notices.push(notice("growth-serial-inseparable", "caution", { curve: curve.title }));
  }
  let logRoot = 0;
  if (rootWeights !== undefined) for (const root of rootWeights) logRoot += Math.log(root);
  return {
    numbers: {
      fit: found.fit,
      logLikelihood: found.logLikelihood + logRoot,
      errorParameters: 1,
      serial: { correlationPerAge: found.phi, edge: found.edge },
    },
    converged: found.fit.converged,
    carry: Float64Array.from(found.carry),
  };
}
