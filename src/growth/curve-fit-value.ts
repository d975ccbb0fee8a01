import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type {
  LeastSquaresFit,
  LeastSquaresStop,
} from "../stats/least-squares/fit-least-squares.js";
import { plainArray } from "../stats/least-squares/plain-array.js";
import type { RobustLoss } from "../stats/least-squares/robust.js";
import type { CurvePoints } from "./curve-numbers.js";
import type { FitErrors } from "./fit-errors.js";
import { type GrowthCurve, type ParameterKind, parameterUnit } from "./growth-curve.js";
import { criteriaOf, independentLogLik, noCriteria, tCut } from "./information-criteria.js";
import { weighingsNeeded } from "./weighings-needed.js";

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
  readonly logLikelihood: number | null;
  readonly aic: number | null;
  readonly aicc: number | null;
  readonly bic: number | null;
  /** Bates-Watts relative offset at the end. */
  readonly relativeOffset: number | null;
  readonly gradientNorm: number | null;
  readonly units: { readonly age: string; readonly mass: string };
  readonly errors: "equal" | FitErrors["kind"];
  readonly loss: "squares" | RobustLoss;
  /** Continuous-time autoregression of the errors, where asked for. */
  readonly serial: SerialErrors | null;
  /** The points used, in order of age. */
  readonly points: FitPoints;
}

export interface FitPoints {
  readonly ages: readonly number[];
  readonly masses: readonly number[];
  /** Empty where the fit did not converge, like the residuals. */
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  /** 1 / (relative) standard deviation; absent where all are equal. */
  readonly rootWeights?: readonly number[];
  /** Weights 0 to 1 that a robust loss ended with. */
  readonly robustWeights?: readonly number[];
  /** Correlation of each error with the one before, where errors are serial. */
  readonly carry?: readonly number[];
}

export interface SerialErrors {
  /** Correlation of the errors of two weighings one unit of age apart. */
  readonly correlationPerAge: number;
  /** Where the likelihood is greatest at an end, the correlation is not identified. */
  readonly edge: "independent" | "inseparable" | null;
}

export type CurveFit = Result<"fit-curve", CurveFitValue>;

/** What the engine found, whichever way the errors were treated. */
export interface CurveNumbers {
  readonly fit: LeastSquaresFit;
  /** Covariance instead of (J'WJ)^-1 s^2. */
  readonly covariance?: readonly number[] | null;
  readonly logLikelihood?: number;
  /** Parameters of the error beyond the one scale. */
  readonly errorParameters?: number;
  /** Degrees of freedom and variance shared with other series. */
  readonly pooled?: { readonly df: number; readonly variance: number };
  readonly serial?: SerialErrors;
  readonly robust?: {
    readonly loss: RobustLoss;
    readonly scale: number;
    readonly weights: readonly number[];
  };
}

export interface FitContext {
  readonly points: CurvePoints;
  readonly origin: number;
  readonly constants: readonly number[];
  readonly units: { readonly age: string; readonly mass: string };
  readonly errors: CurveFitValue["errors"];
  readonly fixed: readonly (number | undefined)[] | undefined;
  readonly freeCount: number;
}

/** Puts what the engine found into a result's value, and says what must be known about it. */
export function describeFit(
  curve: GrowthCurve,
  numbers: CurveNumbers | null,
  status: FitStatus,
  context: FitContext,
  notices: Notice[],
): CurveFitValue {
  const { points, origin, constants, units, errors } = context;
  const fit = numbers?.fit ?? null;
  const n = points.w.length;
  const good = status === "converged" && fit !== null;
  const pooled = numbers?.pooled;
  const df = pooled?.df ?? n - (fit?.freeCount ?? context.freeCount);
  const known = errors === "known-errors";
  const robust = numbers?.robust;
  const variance = !good
    ? null
    : known
      ? 1
      : (pooled?.variance ?? (robust ? robust.scale ** 2 : fit.rss / df));
  const p = curve.parameters.length;
  const covariance = !good
    ? null
    : numbers?.covariance !== undefined
      ? numbers.covariance && matrixOf(numbers.covariance, p, 1)
      : fit.unscaledCovariance && matrixOf(fit.unscaledCovariance, p, variance!);

  const estimates = describeParameters(curve, fit, good, covariance, df, context, notices);
  const asymptote = curve.asymptote === undefined ? null : estimates[curve.asymptote]!;
  noteAsymptote(curve, fit, status, asymptote, units.mass, notices);
  if (good && asymptote !== null) noteFinalMassBeyondData(curve, asymptote, points.w, notices);
  if (good && asymptote !== null && !asymptote.identified && variance !== null) {
    const t = points.t.map((age) => age - origin);
    const more = known
      ? null
      : weighingsNeeded(curve, fit.theta, constants, t, Math.sqrt(variance), curve.asymptote!);
    notices.push(
      more === null
        ? notice("growth-next-step-far-off", "info", { curve: curve.title })
        : notice("growth-next-step-weighings", "info", { curve: curve.title, weighings: more }),
    );
  }

  const residuals: number[] = [];
  if (good) for (let i = 0; i < n; i++) residuals.push(points.w[i]! - fit.values[i]!);
  const logLikelihood = !good
    ? Number.NaN
    : (numbers?.logLikelihood ?? independentLogLik(fit.rss, n, known, points.rootWeights));
  const counted = (fit?.freeCount ?? 0) + (known ? 0 : 1) + (numbers?.errorParameters ?? 0);
  return {
    curve: curve.name,
    equation: curve.equation,
    status,
    converged: status === "converged",
    stop: fit?.stop ?? (status === "too-few-points" ? "too-few-rows" : "no-start"),
    estimates,
    identified: good && estimates.every((each) => each.identified),
    asymptoteIdentified: asymptote === null ? null : asymptote.identified,
    theta: good ? fit.theta : null,
    origin,
    constants,
    covariance,
    residualSd:
      variance === null
        ? notDefined(units.mass, notEstimated(curve, "residual sd"))
        : measured(Math.sqrt(known ? fit!.rss / df : variance), known ? "1" : units.mass, { n }),
    residualDf: df,
    rss: good ? fit.rss : null,
    ...(good ? criteriaOf(logLikelihood, counted, n) : noCriteria),
    relativeOffset: fit?.relativeOffset ?? null,
    gradientNorm: fit === null || !Number.isFinite(fit.gradientNorm) ? null : fit.gradientNorm,
    units,
    errors,
    loss: robust?.loss ?? "squares",
    serial: numbers?.serial ?? null,
    points: {
      ages: plainArray(points.t),
      masses: plainArray(points.w),
      fitted: good ? fit.values : [],
      residuals,
      ...(points.rootWeights === undefined ? {} : { rootWeights: plainArray(points.rootWeights) }),
      ...(robust === undefined ? {} : { robustWeights: robust.weights }),
      ...(points.carry === undefined ? {} : { carry: plainArray(points.carry) }),
    },
  };
}

function describeParameters(
  curve: GrowthCurve,
  fit: LeastSquaresFit | null,
  good: boolean,
  covariance: readonly (readonly number[])[] | null,
  df: number,
  context: FitContext,
  notices: Notice[],
): FittedParameter[] {
  const { points, origin, units, errors, fixed } = context;
  const n = points.w.length;
  const cut = df > 0 ? tCut(errors === "known-errors" ? Number.POSITIVE_INFINITY : df) : Infinity;
  const span = n > 0 ? points.t[n - 1]! - points.t[0]! : 0;
  const estimates: FittedParameter[] = [];
  for (let j = 0; j < curve.parameters.length; j++) {
    const { name, meaning, kind } = curve.parameters[j]!;
    const unit = parameterUnit(kind, units.age, units.mass);
    const isFixed = fixed?.[j] !== undefined;
    const atBound = fit?.atBound[j] ?? false;
    let estimate: Measured;
    let identified = isFixed;
    if (isFixed || good) {
      const bare = isFixed ? fixed![j]! : fit!.theta[j]!;
      const value = bare + (kind === "age" ? origin : 0);
      const se = isFixed || atBound || covariance === null ? null : Math.sqrt(covariance[j]![j]!);
      estimate = se === null ? measured(value, unit, { n }) : measured(value, unit, { se, n });
      if (se !== null) {
        identified = kind === "age" ? cut * se < span : cut * se < Math.abs(bare);
      }
      if (!identified && !atBound) {
        const code =
          se === null
            ? "growth-parameter-undetermined"
            : j === curve.asymptote
              ? "growth-asymptote-not-identified"
              : "growth-parameter-not-identified";
        const last = points.w[n - 1] ?? null;
        notices.push(
          notice(code, "caution", {
            curve: curve.title,
            parameter: name,
            meaning,
            estimate: value,
            se,
            unit,
            last,
            massUnit: units.mass,
          }),
        );
      }
      if (atBound) {
        const parameters = { parameter: name, meaning, estimate: value, unit };
        notices.push(notice("growth-parameter-at-bound", "caution", parameters));
      }
    } else estimate = notDefined(unit, notEstimated(curve, name));
    estimates.push({ name, meaning, kind, estimate, fixed: isFixed, atBound, identified });
  }
  return estimates;
}

function noteAsymptote(
  curve: GrowthCurve,
  fit: LeastSquaresFit | null,
  status: FitStatus,
  asymptote: FittedParameter | null,
  unit: string,
  notices: Notice[],
): void {
  if (status === "not-converged") {
    const parameters = {
      curve: curve.title,
      stop: fit?.stop ?? "no-start",
      iterations: fit?.iterations ?? 0,
    };
    notices.push(
      asymptote === null || asymptote.fixed
        ? notice("growth-not-converged", "problem", parameters)
        : notice("growth-not-converged-asymptote", "problem", parameters),
    );
  }
  if (status === "not-converged" && fit?.stop === "no-progress" && curve.domain !== "every age") {
    const parameters = { curve: curve.title, domain: curve.domain };
    notices.push(notice("growth-edge-of-domain", "info", parameters));
  }
  if (asymptote !== null && !asymptote.identified && status !== "too-few-points") {
    const parameters = { curve: curve.title, parameter: asymptote.name, unit };
    notices.push(notice("growth-next-step-asymptote", "info", parameters));
  }
}

function notEstimated(curve: GrowthCurve, parameter: string): Notice {
  return notice("growth-not-estimated", "problem", { curve: curve.title, parameter });
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

/**
 * A final mass far above every mass weighed comes from the form of the curve,
 * however small its standard error, which takes that form for granted.
 */
function noteFinalMassBeyondData(
  curve: GrowthCurve,
  asymptote: FittedParameter,
  masses: ArrayLike<number>,
  notices: Notice[],
): void {
  const { value, unit } = asymptote.estimate;
  let largest = 0;
  for (let i = 0; i < masses.length; i++) largest = Math.max(largest, masses[i]!);
  if (value === null || asymptote.fixed || !asymptote.identified || largest <= 0) return;
  if (value <= 1.5 * largest) return;
  const parameters = { curve: curve.title, value, unit, times: value / largest };
  notices.push(notice("growth-final-mass-beyond-data", "caution", parameters));
}
