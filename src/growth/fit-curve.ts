import { type Notice, notice } from "../core/notice.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import { fitCurveNumbers } from "./curve-numbers.js";

export interface FitCurveOptions {
  /** A name of the catalogue, or a curve of one's own. */
  readonly curve: CurveName | GrowthCurve;
  /** Default "d". */
  readonly ageUnit?: string | undefined;
  /** Default "g". */
  readonly massUnit?: string | undefined;
  /** The age that counts as zero in curves with a start mass. Default: 0, see the notice where not. */
  readonly origin?: number | undefined;
  /** Parameters that stay at a given value, by name. */
  readonly fixed?: Readonly<Record<string, number>> | undefined;
  /** Closed limits by name. */
  readonly bounds?:
    | Readonly<Record<string, { readonly lower?: number; readonly upper?: number }>>
    | undefined;
  /** A start instead of the curve's own guess, by name; all parameters. */
  readonly start?: Readonly<Record<string, number>> | undefined;
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
  const n = points.w.length;
  const p = curve.parameters.length;
  const units = { age: options.ageUnit ?? "d", mass: options.massUnit ?? "g" };

  const origin = chooseOrigin(curve, points.t, options.origin, units, notices);
  const t = origin === 0 ? points.t : points.t.map((age) => age - origin);
  const constants = curve.constants?.(t) ?? [];
  const fixed = fixedValues(curve, options, origin);
  const { lower, upper } = boundValues(curve, options, origin);
  let freeCount = p;
  if (fixed !== undefined) for (const each of fixed) if (each !== undefined) freeCount--;

  let distinct = 0;
  for (let i = 0; i < n; i++) if (i === 0 || points.t[i] !== points.t[i - 1]) distinct++;
  const enough = distinct >= freeCount && n > freeCount;
  if (!enough) {
    notices.push(
      notice("growth-too-few-points", "problem", {
        curve: curve.title,
        points: n,
        ages: distinct,
        needed: freeCount + 1,
      }),
    );
  }
  const fit = enough
    ? fitCurveNumbers(curve, { ...points, t }, constants, {
        fixed,
        lower,
        upper,
        starts:
          options.start === undefined ? undefined : [startValues(curve, options.start, origin)],
      })
    : null;

  const status: FitStatus = !enough
    ? "too-few-points"
    : fit?.converged === true || (curve.kinked === true && fit?.stop === "no-progress")
      ? "converged"
      : "not-converged";
  const value = describeFit(curve, fit, status, {
    points,
    t,
    origin,
    constants,
    units,
    errors,
    fixed,
    n,
    freeCount,
    notices,
  });
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
        fixed: options.fixed ?? {},
        bounds: options.bounds ?? {},
        start: options.start ?? "from the data",
      },
      citations: curve.citations,
    },
    basis: { used: n, leftOut, of: "weighings" },
    diagnostics: {
      iterations: fit?.iterations ?? 0,
      evaluations: fit?.evaluations ?? 0,
      relativeOffset: fit?.relativeOffset ?? null,
      stop: value.stop,
      lastTheta: fit === null || status === "converged" ? null : fit.theta,
      lastRss: fit === null || !Number.isFinite(fit.rss) ? null : fit.rss,
      inflation: fit?.inflation ?? null,
    },
    notices,
  };
}

