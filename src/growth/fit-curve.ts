import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import type { RobustLoss } from "../stats/least-squares/robust.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import {
  type CurveFit,
  type CurveNumbers,
  describeFit,
  type FitStatus,
} from "./curve-fit-value.js";
import { type CurvePoints, fitCurveNumbers } from "./curve-numbers.js";
import { fitRobustNumbers, fitSerialNumbers } from "./curve-numbers-by-error.js";
import {
  boundValues,
  type CurveData,
  chooseOrigin,
  fixedValues,
  type ParameterOptions,
  preparePoints,
  saidLeftOut,
  startValues,
} from "./fit-preparation.js";
import type { GrowthCurve } from "./growth-curve.js";

export type {
  CurveFit,
  CurveFitValue,
  FitPoints,
  FitStatus,
  FittedParameter,
  SerialErrors,
} from "./curve-fit-value.js";
export type { CurveData } from "./fit-preparation.js";

export interface FitCurveOptions extends ParameterOptions {
  /** A name of the catalogue, or a curve of one's own. */
  readonly curve: CurveName | GrowthCurve;
  /** Default "d". */
  readonly ageUnit?: string | undefined;
  /** Default "g". */
  readonly massUnit?: string | undefined;
  /** The age that counts as zero in curves with a start mass. Default: 0, see the notice where not. */
  readonly origin?: number | undefined;
  /** "huber" or "bisquare" keeps single wild weighings from pulling the curve. Default: least squares. */
  readonly loss?: RobustLoss | undefined;
  /** True: errors of neighbouring weighings resemble each other (continuous-time autoregression). */
  readonly serial?: boolean | undefined;
  /** Fit from this many of the curve's starts and keep the best. Default: what the curve needs. */
  readonly multiStart?: number | undefined;
}

/**
 * Fits a growth curve to the ages and masses of one animal.
 *
 * Ages in days and masses in grams unless `ageUnit` and `massUnit` say
 * otherwise; rows with a missing or non-finite age, or a mass that is not
 * positive, are left out and counted. Bad data and ill-posed fits never throw:
 * `status` and the notices say what happened. Throws `UsageError` on unequal
 * lengths, an unknown curve or parameter, or a bare array as errors.
 *
 * Standard errors from (J'WJ)^-1; log-likelihood of independent normal errors;
 * AICc and BIC count the residual standard deviation as a parameter unless the
 * errors are known. Sources: Bates and Watts, Nonlinear Regression Analysis
 * (1988); Burnham and Anderson (2002).
 *
 * @example
 * // NIST StRD Rat42, pasture yield: A = 72.462237576, SE 1.7340283401
 * fitCurve({ ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
 *            masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08] },
 *          { curve: "logistic" }).value.estimates[0].estimate
 */
export function fitCurve(data: CurveData, options: FitCurveOptions): CurveFit {
  const curve = curveByName(options.curve);
  const notices: Notice[] = [];
  const { points, leftOut, errors } = preparePoints(data);
  notices.push(...saidLeftOut(leftOut));
  const n = points.w.length;
  const p = curve.parameters.length;
  const units = { age: options.ageUnit ?? "d", mass: options.massUnit ?? "g" };
  const origin = chooseOrigin(curve, points.t, options.origin, units, notices);
  const t = origin === 0 ? points.t : points.t.map((age) => age - origin);
  const constants = curve.constants?.(t) ?? [];
  const fixed = fixedValues(curve, options, origin);
  let freeCount = p;
  if (fixed !== undefined) for (const each of fixed) if (each !== undefined) freeCount--;

  let distinct = 0;
  for (let i = 0; i < n; i++) if (i === 0 || points.t[i] !== points.t[i - 1]) distinct++;
  const enough = distinct >= freeCount && n > freeCount;
  if (!enough) {
    const parameters = { curve: curve.title, points: n, ages: distinct, needed: freeCount + 1 };
    notices.push(notice("growth-too-few-points", "problem", parameters));
  }
  const found = enough
    ? computeNumbers(
        curve,
        { ...points, t },
        constants,
        origin,
        fixed,
        options,
        errors === "known-errors",
        notices,
      )
    : null;
  const fit = found?.numbers.fit ?? null;
  const status: FitStatus = !enough
    ? "too-few-points"
    : found?.converged === true
      ? "converged"
      : "not-converged";
  const described = { ...points, ...(found?.carry === undefined ? {} : { carry: found.carry }) };
  const context = { points: described, origin, constants, units, errors, fixed, freeCount };
  const value = describeFit(curve, found?.numbers ?? null, status, context, notices);
  return {
    kind: "fit-curve",
    schema: 1,
    value,
    method: {
      name: `${curve.title} curve by nonlinear least squares`,
      options: {
        curve: curve.name,
        origin,
        ageUnit: units.age,
        massUnit: units.mass,
        errors,
        loss: options.loss ?? "squares",
        serial: options.serial ?? false,
        fixed: options.fixed ?? {},
        bounds: options.bounds ?? {},
        start: options.start ?? "from the data",
        multiStart: options.multiStart ?? curve.tries ?? 1,
      },
      citations: curve.citations,
    },
    basis: { used: n, leftOut, of: "weighings" },
    diagnostics: {
      iterations: fit?.iterations ?? 0,
      evaluations: fit?.evaluations ?? 0,
      lastTheta: fit === null || status === "converged" ? null : fit.theta,
      lastRss: fit === null || !Number.isFinite(fit.rss) ? null : fit.rss,
      inflation: fit?.inflation ?? null,
    },
    notices,
  };
}

interface Found {
  readonly numbers: CurveNumbers;
  readonly converged: boolean;
  readonly carry?: Float64Array;
}

/** The plain, robust or serial fit. */
function computeNumbers(
  curve: GrowthCurve,
  points: CurvePoints,
  constants: readonly number[],
  origin: number,
  fixed: readonly (number | undefined)[] | undefined,
  options: FitCurveOptions,
  known: boolean,
  notices: Notice[],
): Found | null {
  if (options.loss !== undefined && options.serial === true) {
    throw new UsageError({
      needed: "either a robust loss or serial errors",
      came: "both came",
      where: "fitCurve, options loss and serial",
      todo: "Choose one; fit twice to compare.",
    });
  }
  if (options.serial === true && known) {
    throw new UsageError({
      needed: "errors of unknown size where they are serial",
      came: "known errors came",
      where: "fitCurve, option serial",
      todo: "Leave out the known errors, give relativeWeights instead, or fit without serial errors.",
    });
  }
  const { lower, upper } = boundValues(curve, options, origin);
  const starts =
    options.start === undefined ? undefined : [startValues(curve, options.start, origin)];
  const settings = { fixed, lower, upper, starts, tries: options.multiStart };
  const plain = fitCurveNumbers(curve, points, constants, settings);
  if (plain === null) return null;
  const onAge = !plain.converged && curve.kinked === true && breakOnAge(plain.theta, points.t);
  if (onAge) notices.push(notice("growth-break-on-age", "info", { curve: curve.title }));
  // Directions in which nothing changes at all: the parameters have run off.
  const whole = plain.unscaledCovariance !== null || curve.kinked === true;
  const settled = (plain.converged && whole) || onAge;
  if (settled && "tried" in plain) {
    // The given start is among those tried.
    notices.push(notice("growth-restarted", "caution", { starts: plain.tried.length - 1 }));
  }
  if (options.loss !== undefined) {
    return fitRobustNumbers(curve, points, constants, settings, plain, options.loss);
  }
  if (!settled || options.serial !== true) return { numbers: { fit: plain }, converged: settled };
  return fitSerialNumbers(curve, points, constants, settings, plain, notices);
}

/**
 * Where the formula has a kink, the best break (the last parameter) may lie on
 * an age itself: the sum of squares then has a corner there and its gradient
 * does not vanish.
 */
function breakOnAge(theta: readonly number[], ages: ArrayLike<number>): boolean {
  const at = theta[theta.length - 1]!;
  const n = ages.length;
  const near = 1e-6 * (ages[n - 1]! - ages[0]!);
  for (let i = 1; i < n - 1; i++) if (Math.abs(ages[i]! - at) < near) return true;
  return false;
}
