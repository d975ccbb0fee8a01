import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { type LeastSquaresFit, type LeastSquaresStop, plainArray } from "../stats/least-squares.js";
import type { RobustLoss } from "../stats/least-squares-robust.js";
import type { CurvePoints } from "./curve-numbers.js";
import type { FitErrors } from "./fit-errors.js";
import { type GrowthCurve, type ParameterKind, parameterUnit } from "./growth-curve.js";
import { criteriaOf, independentLogLik, noCriteria, tCut } from "./information-criteria.js";

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
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  /** 1 / (relative) standard deviation; absent where all are equal. */
  readonly rootWeights?: readonly number[];
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
  readonly logLik?: number;
  /** Parameters of the error beyond the one scale. */
  readonly errorParameters?: number;
  readonly serial?: SerialErrors;
  readonly robust?: { readonly loss: RobustLoss; readonly scale: number; readonly weights: readonly number[] };
}

export interface FitContext {
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

export function describeFit(
  curve: GrowthCurve,
  numbers: CurveNumbers | null,
  status: FitStatus,
  context: FitContext,
): CurveFitValue {
  const fit = numbers?.fit ?? null;
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

