import { type Measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import { requireNumber } from "../core/require-numbers.js";
import { requireResult } from "../core/require-result.js";
import { curveByName, curveTitle } from "./curve-catalogue.js";
import type { CurveFit } from "./curve-fit-value.js";
import type { GrowthCurve } from "./growth-curve.js";
import { tCut } from "./information-criteria.js";

export interface Prediction {
  /** The curve's value with its standard error and the confidence interval of the curve. */
  readonly mean: Measured;
  /** Where a single new value is expected to lie (curve and scatter together). */
  readonly newValue: Measured;
  /** Whether the age lies within the ages of the fit. */
  readonly withinAges: boolean;
}

export interface PredictOptions {
  /** Coverage aimed at. Default 0.95. */
  readonly level?: number | undefined;
  /** The curve itself, where it is one of your own and not of the catalogue. */
  readonly curve?: GrowthCurve | undefined;
}

/**
 * The mass a fitted curve gives at an age, with its confidence interval and the
 * interval for a new single weighing (delta method, Student's t).
 * Not defined, with the reason, where the fit did not converge, the age lies
 * outside the curve's domain, or it lies beyond the last weighing and the final
 * mass is not identified.
 *
 * @throws UsageError where the age is not one finite number.
 * @example predictMass(fit, 30).mean // { value: 2141.3, unit: "g", se: 12.1, interval: ... }
 */
export function predictMass(fit: CurveFit, age: number, options: PredictOptions = {}): Prediction {
  requireResult("predictMass", "fit-curve", fit);
  requireNumber("predictMass", "an age", age);
  const { value } = fit;
  return predict(fit, age, options, value.units.mass, true, (curve, p, out) =>
    curve.gradient(age - value.origin, p, out, 0, value.constants),
  );
}

/**
 * The gain (slope of the curve) at an age, with its confidence interval.
 * `newValue` is not defined: a gain is not observed at one instant.
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
 * predictGain(fit, 20).mean.value // 104.921
 */
export function predictGain(fit: CurveFit, age: number, options: PredictOptions = {}): Prediction {
  requireResult("predictGain", "fit-curve", fit);
  requireNumber("predictGain", "an age", age);
  const { value } = fit;
  const unit = `${value.units.mass}/${value.units.age}`;
  return predict(fit, age, options, unit, false, (curve, p, out) => {
    const at = (q: ArrayLike<number>) => curve.gain(age - value.origin, q, value.constants);
    numericGradient(at, p, standardErrors(fit), out);
    return at(p);
  });
}

/** What the two bands around a fitted curve mean, one sentence each. */
export function explainBands(level = 0.95): Notice[] {
  return [
    notice("growth-confidence-band", "info", { percent: 100 * level }),
    notice("growth-prediction-band", "info", { percent: 100 * level }),
  ];
}

function predict(
  fit: CurveFit,
  age: number,
  options: PredictOptions,
  unit: string,
  single: boolean,
  evaluate: (curve: GrowthCurve, p: Float64Array, out: Float64Array) => number,
): Prediction {
  const { value } = fit;
  const { ages } = value.points;
  const last = ages[ages.length - 1] ?? 0;
  const withinAges = ages.length > 0 && age >= ages[0]! && age <= last;
  const refuse = (
    code:
      | "growth-prediction-no-fit"
      | "growth-prediction-beyond-unidentified"
      | "growth-prediction-outside-domain",
  ): Prediction => {
    const about = { curve: curveTitle(value.curve), age, unit: value.units.age, last };
    const why = notice(code, "problem", about);
    return { mean: notDefined(unit, why), newValue: notDefined(unit, why), withinAges };
  };
  if (value.theta === null) return refuse("growth-prediction-no-fit");
  if (age > last && value.asymptoteIdentified === false) {
    return refuse("growth-prediction-beyond-unidentified");
  }
  const curve = options.curve ?? curveByName(value.curve);
  const p = Float64Array.from(value.theta);
  const gradient = new Float64Array(p.length);
  const mean = evaluate(curve, p, gradient);
  if (!Number.isFinite(mean)) return refuse("growth-prediction-outside-domain");
  const level = options.level ?? 0.95;
  if (value.covariance === null) {
    return {
      mean: { value: mean, unit },
      newValue: notDefined(
        unit,
        notice("growth-prediction-no-error", "caution", { curve: curveTitle(value.curve) }),
      ),
      withinAges,
    };
  }
  const variance = deltaVariance(value.covariance, gradient);
  const se = Math.sqrt(variance);
  const known = value.errors === "known-errors";
  const cut = known ? tCut(Number.POSITIVE_INFINITY, level) : tCut(value.residualDf, level);
  const n = ages.length;
  const interval = (half: number) => ({ lower: mean - half, upper: mean + half, level });
  const spread = value.residualSd.value;
  return {
    mean: { value: mean, unit, se, interval: interval(cut * se), n },
    newValue:
      !single || known || spread === null
        ? notDefined(
            unit,
            notice("growth-no-single-value", "info", { curve: curveTitle(value.curve) }),
          )
        : {
            value: mean,
            unit,
            se: Math.sqrt(variance + spread * spread),
            interval: interval(cut * Math.sqrt(variance + spread * spread)),
            n,
          },
    withinAges,
  };
}

/** Variance of a function of the parameters by the delta method: g'Vg, not below zero. */
export function deltaVariance(
  covariance: readonly (readonly number[])[],
  g: ArrayLike<number>,
): number {
  let sum = 0;
  for (let i = 0; i < g.length; i++) {
    for (let j = 0; j < g.length; j++) sum += g[i]! * covariance[i]![j]! * g[j]!;
  }
  return Math.max(0, sum);
}

/** Standard errors of the bare parameters; 0 for fixed ones. */
export function standardErrors(fit: CurveFit): number[] {
  const { covariance, theta } = fit.value;
  return (theta ?? []).map((_, j) => (covariance === null ? 0 : Math.sqrt(covariance[j]![j]!)));
}

/**
 * Central differences with one Richardson step. The step is a small part of the
 * standard error (within which the function is smooth) or of the value.
 */
export function numericGradient(
  f: (p: ArrayLike<number>) => number,
  p: Float64Array,
  se: readonly number[],
  out: Float64Array,
): void {
  const q = Float64Array.from(p);
  for (let j = 0; j < p.length; j++) {
    const size = Math.max(Math.abs(p[j]!), Number.MIN_VALUE);
    const h = se[j]! > 0 ? Math.min(1e-2 * se[j]!, 1e-3 * Math.max(size, se[j]!)) : 1e-4 * size;
    const slope = (step: number) => {
      q[j] = p[j]! + step;
      const above = f(q);
      q[j] = p[j]! - step;
      const below = f(q);
      q[j] = p[j]!;
      return (above - below) / (2 * step);
    };
    const near = slope(h / 2);
    out[j] = (4 * near - slope(h)) / 3;
    if (!Number.isFinite(out[j]!)) out[j] = near;
  }
}
