import { type Notice, notice } from "../core/notice.js";
import { requireResult } from "../core/require-result.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { fitLeastSquares } from "../stats/least-squares/fit-least-squares.js";
import { profileInterval } from "../stats/least-squares/profile.js";
import { curveByName } from "./curve-catalogue.js";
import type { CurveFit } from "./curve-fit-value.js";
import { curveModel } from "./curve-numbers.js";
import type { GrowthCurve } from "./growth-curve.js";
import { tCut } from "./information-criteria.js";

export interface ParameterProfile {
  readonly parameter: string;
  readonly unit: string;
  readonly estimate: number;
  readonly level: number;
  /** `null`: unbounded on this side, the data do not keep the parameter from going there. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** True when that end is the edge of the curve's domain or a limit that was set. */
  readonly lowerAtEdge: boolean;
  readonly upperAtEdge: boolean;
  /** Estimate plus and minus t standard errors, for comparison. */
  readonly wald: { readonly lower: number; readonly upper: number } | null;
  /** Values with their signed root t, in order, for a profile plot. */
  readonly trace: readonly { readonly value: number; readonly t: number }[];
}

/**
 * The profile-likelihood interval of one parameter of a fit: all others are
 * fitted anew at each value. It needs no symmetry and, unlike the interval from
 * the standard error, tells when the data set no limit on one side. With serial
 * errors the correlation stays at its estimate. `null` value with the reason
 * where the fit did not converge, the parameter is fixed, or the loss is robust
 * (which has no likelihood).
 *
 * @example profileParameter(fit, "A").value?.upper // null: the final mass is not limited upwards
 */
export function profileParameter(
  fit: CurveFit,
  parameter: string,
  options: { readonly level?: number; readonly curve?: GrowthCurve } = {},
): Result<"profile-parameter", ParameterProfile | null> {
  requireResult("profileParameter", "fit-curve", fit);
  const { value } = fit;
  const curve = options.curve ?? curveByName(value.curve);
  const at = curve.parameters.findIndex((each) => each.name === parameter);
  if (at < 0) {
    throw new UsageError({
      needed: `a parameter of the ${curve.name} curve (${curve.parameters.map((each) => each.name).join(", ")})`,
      came: `"${parameter}" came`,
      where: "profileParameter",
      todo: "Use the parameter's symbol in the equation.",
    });
  }
  const level = options.level ?? 0.95;
  const notices: Notice[] = [];
  const profile = compute(fit, curve, at, level, notices);
  return {
    kind: "profile-parameter",
    schema: 1,
    value: profile,
    method: {
      name: "Profile likelihood",
      options: { parameter, level, curve: curve.name },
      citations: ["Bates DM, Watts DG (1988) Nonlinear Regression Analysis. Wiley, section 6.1"],
    },
    basis: fit.basis,
    diagnostics: {},
    notices,
  };
}

function compute(
  fit: CurveFit,
  curve: GrowthCurve,
  at: number,
  level: number,
  notices: Notice[],
): ParameterProfile | null {
  const { value } = fit;
  const own = value.estimates[at]!;
  const refuse = (
    code: "growth-profile-no-fit" | "growth-profile-fixed" | "growth-profile-robust",
  ) => {
    notices.push(notice(code, "problem", { parameter: own.name, curve: curve.title }));
    return null;
  };
  if (value.theta === null) return refuse("growth-profile-no-fit");
  if (own.fixed) return refuse("growth-profile-fixed");
  if (value.loss !== "squares") return refuse("growth-profile-robust");
  const { points, origin } = value;
  const t = Float64Array.from(points.ages, (age) => age - origin);
  const model = curveModel(curve, t, value.constants);
  const data = {
    y: Float64Array.from(points.masses),
    ...(points.rootWeights === undefined ? {} : { rootWeights: points.rootWeights }),
    ...(points.carry === undefined ? {} : { carry: points.carry }),
  };
  const bounds = (fit.method.options["bounds"] ?? {}) as Record<
    string,
    { lower?: number; upper?: number }
  >;
  const shift = (name: string, kind: string, side: "lower" | "upper", none: number) =>
    bounds[name]?.[side] === undefined
      ? none
      : bounds[name]![side]! - (kind === "age" ? origin : 0);
  const settings = {
    fixed: value.estimates.map((each) => each.fixed),
    lower: value.estimates.map((each) => shift(each.name, each.kind, "lower", -Infinity)),
    upper: value.estimates.map((each) => shift(each.name, each.kind, "upper", Infinity)),
  };
  const again = fitLeastSquares(model, data, { ...settings, start: value.theta });
  const known = value.errors === "known-errors";
  const variance = known ? 1 : again.rss / value.residualDf;
  const cut = tCut(known ? Number.POSITIVE_INFINITY : value.residualDf, level);
  const found = profileInterval(model, data, settings, again, at, variance, cut);
  const move = own.kind === "age" ? origin : 0;
  const back = (x: number | null) => (x === null ? null : x + move);
  const se = own.estimate.se;
  const estimate = own.estimate.value!;
  if (found.lowerRss !== null) {
    notices.push(
      notice("growth-profile-lower", "caution", { parameter: own.name, curve: curve.title }),
    );
  }
  if (found.lower.at === null || found.upper.at === null) {
    const side = found.upper.at === null ? (found.lower.at === null ? "both" : "upper") : "lower";
    notices.push(
      notice("growth-profile-unbounded", "caution", {
        parameter: own.name,
        meaning: own.meaning,
        side,
        level: 100 * level,
      }),
    );
  }
  return {
    parameter: own.name,
    unit: own.estimate.unit,
    estimate,
    level,
    lower: back(found.lower.at),
    upper: back(found.upper.at),
    lowerAtEdge: found.lower.atEdge,
    upperAtEdge: found.upper.atEdge,
    wald: se === undefined ? null : { lower: estimate - cut * se, upper: estimate + cut * se },
    trace: found.trace.map((each) => ({ value: each.value + move, t: each.t })),
  };
}
