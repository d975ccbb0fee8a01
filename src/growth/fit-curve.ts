import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { LeftOut, Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { type LeastSquaresFit, type LeastSquaresStop, plainArray } from "../stats/least-squares.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import { type CurvePoints, fitCurveNumbers } from "./curve-numbers.js";
import { checkErrors, type FitErrors } from "./fit-errors.js";
import { type GrowthCurve, type ParameterKind, parameterUnit } from "./growth-curve.js";

export interface CurveData {
  /** Ages, by default in days. */
  readonly ages: readonly number[];
  /** Masses, by default in grams. */
  readonly masses: readonly number[];
  /** How exact each mass is; absent means equally exact. */
  readonly errors?: FitErrors | undefined;
}

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

export type FitStatus = "converged" | "not-converged" | "too-few-points";

export interface FittedParameter {
  readonly name: string;
  readonly meaning: string;
  readonly kind: ParameterKind;
  /** Value with standard error and unit; `null` where the fit did not converge. */
  readonly estimate: Measured;
  readonly fixed: boolean;
  readonly atBound: boolean;
  /**
   * Whether the data tell it: its 95 % Wald interval keeps clear of zero (mass,
   * rate, shape; for a mass this is also whether 1/A keeps clear of zero, so
   * whether the mass is kept from running to infinity) or is shorter than the
   * series (age). A fixed parameter counts as identified.
   */
  readonly identified: boolean;
}

export interface CurveFitValue {
  readonly curve: string;
  readonly equation: string;
  readonly status: FitStatus;
  readonly converged: boolean;
  readonly stop: LeastSquaresStop | "no-start";
  readonly estimates: readonly FittedParameter[];
  /** True when every parameter is identified. */
  readonly identified: boolean;
  /** Whether the final mass is identified; `null` for curves without one. */
  readonly asymptoteIdentified: boolean | null;
  /** The bare parameter values in the curve's order, ages counted from `origin`. */
  readonly theta: readonly number[] | null;
  readonly origin: number;
  readonly constants: readonly number[];
  /** Covariance of the parameters in the curve's order; zero rows for fixed ones. */
  readonly covariance: readonly (readonly number[])[] | null;
  readonly residualSd: Measured;
  readonly residualDf: number;
  /** Weighted residual sum of squares. */
  readonly rss: number | null;
  readonly logLik: number | null;
  readonly aic: number | null;
  readonly aicc: number | null;
  readonly bic: number | null;
  /** Bates-Watts relative offset at the end. */
  readonly relativeOffset: number | null;
  readonly gradientNorm: number | null;
  readonly units: { readonly age: string; readonly mass: string };
  readonly errors: "equal" | "known-errors" | "relative-weights";
  /** The points used, in order of age. */
  readonly points: FitPoints;
}

export interface FitPoints {
  readonly ages: readonly number[];
  readonly masses: readonly number[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  /** 1 / (relative) standard deviation; absent where all are equal. */
  readonly rootWeights?: readonly number[];
}

export type CurveFit = Result<"fit-curve", CurveFitValue>;

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

interface FitContext {
  readonly points: CurvePoints;
  readonly t: Float64Array;
  readonly origin: number;
  readonly constants: readonly number[];
  readonly units: { readonly age: string; readonly mass: string };
  readonly errors: CurveFitValue["errors"];
  readonly fixed: readonly (number | undefined)[] | undefined;
  readonly n: number;
  readonly freeCount: number;
  readonly notices: Notice[];
}

function describeFit(
  curve: GrowthCurve,
  fit: LeastSquaresFit | null,
  status: FitStatus,
  context: FitContext,
): CurveFitValue {
  const { points, origin, constants, units, errors, fixed, n, notices } = context;
  const p = curve.parameters.length;
  const good = status === "converged" && fit !== null;
  const df = n - (fit?.freeCount ?? context.freeCount);
  const known = errors === "known-errors";
  const variance = !good ? null : known ? 1 : fit.rss / df;
  const unscaled = good ? fit.unscaledCovariance : null;
  const covariance =
    unscaled === null || variance === null ? null : matrixOf(unscaled, p, variance);
  const wide = df > 0 ? (known ? 1.959963984540054 : tCut(df)) : Number.POSITIVE_INFINITY;
  const span = n > 0 ? points.t[n - 1]! - points.t[0]! : 0;

  const estimates: FittedParameter[] = new Array(p);
  let allIdentified = good;
  for (let j = 0; j < p; j++) {
    const each = curve.parameters[j]!;
    const unit = parameterUnit(each.kind, units.age, units.mass);
    const isFixed = fixed?.[j] !== undefined;
    const shift = each.kind === "age" ? origin : 0;
    const atBound = fit?.atBound[j] ?? false;
    let estimate: Measured;
    let identified = isFixed;
    if (good || isFixed) {
      const at = isFixed ? fixed![j]! : fit!.theta[j]!;
      const varianceOfIt = covariance === null || atBound ? null : covariance[j]![j]!;
      const se = varianceOfIt === null ? null : Math.sqrt(varianceOfIt);
      estimate =
        isFixed || se === null
          ? measured(at + shift, unit, { n })
          : measured(at + shift, unit, { se, n });
      if (!isFixed && se !== null) {
        identified = each.kind === "age" ? wide * se < span : wide * se < Math.abs(at);
      }
      if (!isFixed && !identified && !atBound) {
        notices.push(
          notice(
            j === curve.asymptote
              ? "growth-asymptote-not-identified"
              : "growth-parameter-not-identified",
            "caution",
            {
              curve: curve.title,
              parameter: each.name,
              meaning: each.meaning,
              estimate: at + shift,
              se,
              unit,
              last: points.w[n - 1]!,
              massUnit: units.mass,
            },
          ),
        );
      }
    } else {
      estimate = notDefined(
        unit,
        notice("growth-not-estimated", "problem", { curve: curve.title, parameter: each.name }),
      );
    }
    if (atBound) {
      notices.push(
        notice("growth-parameter-at-bound", "caution", {
          parameter: each.name,
          meaning: each.meaning,
          estimate: estimate.value,
          unit,
        }),
      );
    }
    if (!identified) allIdentified = false;
    estimates[j] = {
      name: each.name,
      meaning: each.meaning,
      kind: each.kind,
      estimate,
      fixed: isFixed,
      atBound,
      identified,
    };
  }
  const asymptote = curve.asymptote === undefined ? null : estimates[curve.asymptote]!;
  if (status === "not-converged") {
    notices.push(
      notice(
        asymptote === null || asymptote.fixed
          ? "growth-not-converged"
          : "growth-not-converged-asymptote",
        "problem",
        {
          curve: curve.title,
          stop: fit?.stop ?? "no-start",
          iterations: fit?.iterations ?? 0,
        },
      ),
    );
  }
  if (asymptote !== null && !asymptote.identified && status !== "too-few-points") {
    notices.push(
      notice("growth-next-step-asymptote", "info", {
        curve: curve.title,
        parameter: asymptote.name,
        unit: units.mass,
      }),
    );
  }

  const fitted: number[] = new Array(n);
  const residuals: number[] = new Array(n);
  for (let i = 0; i < n; i++) {
    fitted[i] = good ? fit.values[i]! : 0;
    residuals[i] = good ? points.w[i]! - fit.values[i]! : 0;
  }
  const information = good ? criteria(fit, n, known, points.rootWeights) : noCriteria;
  return {
    curve: curve.name,
    equation: curve.equation,
    status,
    converged: status === "converged",
    stop: fit?.stop ?? (status === "too-few-points" ? "too-few-rows" : "no-start"),
    estimates,
    identified: allIdentified,
    asymptoteIdentified: asymptote === null ? null : asymptote.identified,
    theta: good ? fit.theta : null,
    origin,
    constants,
    covariance,
    residualSd:
      variance === null
        ? notDefined(
            units.mass,
            notice("growth-not-estimated", "problem", {
              curve: curve.title,
              parameter: "residual sd",
            }),
          )
        : measured(Math.sqrt(known ? fit!.rss / df : variance), known ? "1" : units.mass, { n }),
    residualDf: df,
    rss: good ? fit.rss : null,
    ...information,
    relativeOffset: fit?.relativeOffset ?? null,
    gradientNorm: fit === null || !Number.isFinite(fit.gradientNorm) ? null : fit.gradientNorm,
    units,
    errors,
    points: {
      ages: plainArray(points.t),
      masses: plainArray(points.w),
      fitted: good ? fitted : [],
      residuals: good ? residuals : [],
      ...(points.rootWeights === undefined ? {} : { rootWeights: plainArray(points.rootWeights) }),
    },
  };
}

function matrixOf(flat: readonly number[], p: number, times: number): number[][] {
  const rows: number[][] = [];
  for (let i = 0; i < p; i++) {
    const row: number[] = [];
    for (let j = 0; j < p; j++) row.push(flat[i * p + j]! * times);
    rows.push(row);
  }
  return rows;
}

const noCriteria = { logLik: null, aic: null, aicc: null, bic: null };

function criteria(
  fit: LeastSquaresFit,
  n: number,
  known: boolean,
  rootWeights: ArrayLike<number> | undefined,
): { logLik: number | null; aic: number | null; aicc: number | null; bic: number | null } {
  if (!(fit.rss > 0)) return noCriteria;
  let logRoot = 0;
  if (rootWeights !== undefined) for (let i = 0; i < n; i++) logRoot += Math.log(rootWeights[i]!);
  const logLik = known
    ? logRoot - 0.5 * (n * Math.log(2 * Math.PI) + fit.rss)
    : logRoot - 0.5 * n * (Math.log((2 * Math.PI * fit.rss) / n) + 1);
  const k = fit.freeCount + (known ? 0 : 1);
  const aic = 2 * k - 2 * logLik;
  return {
    logLik,
    aic,
    aicc: n - k - 1 > 0 ? aic + (2 * k * (k + 1)) / (n - k - 1) : null,
    bic: k * Math.log(n) - 2 * logLik,
  };
}

const tCuts = new Map<number, number>();

/** The two-sided 95 % cut of Student's t; kept because thousands of fits share it. */
export function tCut(df: number, level = 0.95): number {
  if (level !== 0.95) return studentTQuantile((1 + level) / 2, df);
  let cut = tCuts.get(df);
  if (cut === undefined) {
    cut = studentTQuantile(0.975, df);
    tCuts.set(df, cut);
  }
  return cut;
}

function preparePoints(data: CurveData): {
  points: CurvePoints;
  leftOut: LeftOut[];
  errors: CurveFitValue["errors"];
} {
  const { ages, masses } = data;
  if (!isList(ages) || !isList(masses) || ages.length !== masses.length) {
    throw new UsageError({
      needed: "ages and masses as two lists of equal length",
      came:
        isList(ages) && isList(masses)
          ? `${ages.length} ages and ${masses.length} masses came`
          : "something else came",
      where: "fitCurve",
      todo: "Give one mass for each age.",
    });
  }
  const given = checkErrors(data.errors, ages.length, "fitCurve, errors");
  const rows: number[] = [];
  let noNumber = 0;
  let notPositive = 0;
  let badError = 0;
  let sorted = true;
  for (let i = 0; i < ages.length; i++) {
    const mass = masses[i]!;
    if (!Number.isFinite(ages[i]!) || !Number.isFinite(mass)) noNumber++;
    else if (!(mass > 0)) notPositive++;
    else if (given !== undefined && !(errorOf(given, i) > 0)) badError++;
    else {
      if (rows.length > 0 && ages[i]! < ages[rows[rows.length - 1]!]!) sorted = false;
      rows.push(i);
    }
  }
  if (!sorted) rows.sort((a, b) => ages[a]! - ages[b]! || masses[a]! - masses[b]!);
  const n = rows.length;
  const t = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    t[i] = ages[rows[i]!]!;
    w[i] = masses[rows[i]!]!;
  }
  const leftOut: LeftOut[] = [];
  if (noNumber > 0)
    leftOut.push({ reason: "age or mass is missing or not a number", count: noNumber });
  if (notPositive > 0) leftOut.push({ reason: "mass is not above zero", count: notPositive });
  if (badError > 0) leftOut.push({ reason: "error or weight is not above zero", count: badError });
  if (given === undefined) return { points: { t, w }, leftOut, errors: "equal" };
  const rootWeights = Float64Array.from(rows, (i) => errorOf(given, i));
  return { points: { t, w, rootWeights }, leftOut, errors: given.kind };
}

/** 1 / sd, or the root of the weight; not above zero where unusable. */
function errorOf(errors: FitErrors, row: number): number {
  if (errors.kind === "relative-weights") {
    const root = Math.sqrt(errors.weights[row]!);
    return Number.isFinite(root) ? root : 0;
  }
  const inverse = 1 / errors.sd[row]!;
  return Number.isFinite(inverse) ? inverse : 0;
}

function isList(x: unknown): x is ArrayLike<number> {
  return Array.isArray(x) || ArrayBuffer.isView(x);
}

/** Age zero counts, unless it lies so far outside that a start mass there means nothing. */
function chooseOrigin(
  curve: GrowthCurve,
  ages: ArrayLike<number>,
  asked: number | undefined,
  units: { readonly age: string },
  notices: Notice[],
): number {
  if (asked !== undefined) return asked;
  const n = ages.length;
  if (n === 0) return 0;
  const first = ages[0]!;
  const span = ages[n - 1]! - first;
  if (Math.abs(first) <= 20 * span) return 0;
  if (curve.usesOrigin)
    notices.push(notice("growth-origin-moved", "info", { age: first, unit: units.age }));
  return first;
}

function positionOf(curve: GrowthCurve, name: string, option: string): number {
  const at = curve.parameters.findIndex((each) => each.name === name);
  if (at >= 0) return at;
  throw new UsageError({
    needed: `a parameter of the ${curve.name} curve (${curve.parameters.map((each) => each.name).join(", ")})`,
    came: `"${name}" came`,
    where: `fitCurve, option ${option}`,
    todo: "Use the parameter's symbol in the equation.",
  });
}

function inFitTerms(curve: GrowthCurve, at: number, value: number, origin: number): number {
  return curve.parameters[at]!.kind === "age" ? value - origin : value;
}

function fixedValues(
  curve: GrowthCurve,
  options: FitCurveOptions,
  origin: number,
): (number | undefined)[] | undefined {
  if (options.fixed === undefined) return undefined;
  const fixed = new Array<number | undefined>(curve.parameters.length).fill(undefined);
  for (const [name, value] of Object.entries(options.fixed)) {
    const at = positionOf(curve, name, "fixed");
    fixed[at] = inFitTerms(curve, at, value, origin);
  }
  return fixed;
}

function boundValues(
  curve: GrowthCurve,
  options: FitCurveOptions,
  origin: number,
): { lower: number[] | undefined; upper: number[] | undefined } {
  if (options.bounds === undefined) return { lower: undefined, upper: undefined };
  const lower = new Array<number>(curve.parameters.length).fill(-Infinity);
  const upper = new Array<number>(curve.parameters.length).fill(Infinity);
  for (const [name, bound] of Object.entries(options.bounds)) {
    const at = positionOf(curve, name, "bounds");
    if (bound.lower !== undefined) lower[at] = inFitTerms(curve, at, bound.lower, origin);
    if (bound.upper !== undefined) upper[at] = inFitTerms(curve, at, bound.upper, origin);
  }
  return { lower, upper };
}

function startValues(
  curve: GrowthCurve,
  start: Readonly<Record<string, number>>,
  origin: number,
): number[] {
  for (const name of Object.keys(start)) positionOf(curve, name, "start");
  return curve.parameters.map((each, at) => inFitTerms(curve, at, start[each.name] ?? 1, origin));
}
