import type { CurveTrace } from "../../analysis/curve-trace.js";
import type { Chart, ChartOptions } from "../../charts/chart.js";
import { growthCurveChart } from "../../charts/growth-curve-chart.js";
import { profileChart } from "../../charts/profile-chart.js";
import { residualChart } from "../../charts/residual-chart.js";
import type { Result } from "../../core/result.js";
import type { CurveFit } from "../../growth/fit-curve.js";
import type { ParameterProfile } from "../../growth/profile-parameter.js";
import { curveWords } from "../section/curve-words.js";
import { withMethod } from "../section/with-method.js";

/**
 * A fit with one of its two bands: where the curve is expected to lie, or, wider,
 * where a single new weighing is.
 */
export function fitPicture(
  name: string,
  fit: CurveFit,
  trace: CurveTrace,
  band: "curve" | "weighing" = "curve",
  options: ChartOptions = {},
): Chart {
  const { ages, masses } = fit.value.points;
  const chart = growthCurveChart(
    {
      name,
      points: ages.map((day, i) => ({ day, massG: masses[i]! })),
      curves: [
        {
          name: curveWords(fit.value.curve),
          points: trace.points.map((p) => ({
            day: p.age,
            massG: p.mass,
            lower: band === "curve" ? p.curveLow : p.weighingLow,
            upper: band === "curve" ? p.curveHigh : p.weighingHigh,
          })),
        },
      ],
      bandIs:
        band === "curve"
          ? "95 % confidence band of the curve: where the curve itself is expected"
          : "95 % prediction band: where a single new weighing is expected",
    },
    { ...options, title: `${name}: ${curveWords(fit.value.curve)} curve` },
  );
  return withMethod(chart, "fit");
}

/** Weighing minus curve, in the order of age: a good fit shows no pattern. */
export function residualPicture(name: string, fit: CurveFit): Chart {
  const { ages, residuals } = fit.value.points;
  const chart = residualChart({
    name: `${name}, ${curveWords(fit.value.curve)} curve`,
    unit: fit.value.units.mass,
    points: ages.map((day, i) => ({ day, residual: residuals[i]! })),
  });
  return withMethod(chart, "residual");
}

/** The profile of one parameter; null where there is none. */
export function profilePicture(
  profile: Result<"profile-parameter", ParameterProfile | null>,
): Chart | null {
  const { value } = profile;
  if (value === null) return null;
  const { parameter, unit, trace, estimate, lower, upper, level } = value;
  return profileChart({
    parameter: `${parameter} (${unit})`,
    points: trace,
    estimate,
    lower,
    upper,
    level,
  });
}
