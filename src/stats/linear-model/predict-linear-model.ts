import { UsageError } from "../../core/usage-error.js";
import { studentTQuantile } from "../distributions/student-t.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import type { LinearModel } from "./fit-linear-model.js";

export interface LinearPrediction {
  readonly value: number;
  /** Standard error of the mean at this row; `null` without residual degrees of freedom. */
  readonly se: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface PredictOptions {
  readonly level?: number;
  /** `"mean"`: interval for the mean (default); `"observation"`: for one new value. */
  readonly interval?: "mean" | "observation";
  /** Weight of the new observation (its variance is sigma^2 / weight). Default 1. */
  readonly weight?: number;
}

/**
 * Predicts at new rows of the design (m x p, columns as in the fit).
 *
 * @throws UsageError when the number of columns differs from the fit.
 * @example predictLinearModel(model, matrixFromRows([[1, 4]]))[0].value
 */
export function predictLinearModel(
  model: LinearModel,
  x: Matrix,
  options: PredictOptions = {},
): LinearPrediction[] {
  const { level = 0.95, interval = "mean", weight = 1 } = options;
  if (x.cols !== model.coefficients.length) {
    throw new UsageError({
      needed: `${model.coefficients.length} columns, as in the fit`,
      came: `${x.cols} came`,
      where: "predictLinearModel",
      todo: "Build the new rows the same way as the fitted ones.",
    });
  }
  const extra =
    interval === "observation" && model.residualSd !== null ? model.residualSd ** 2 / weight : 0;
  const t = model.dfResidual > 0 ? studentTQuantile((1 + level) / 2, model.dfResidual) : null;
  return Array.from({ length: x.rows }, (_, i) => {
    const row = x.data.subarray(i * x.cols, (i + 1) * x.cols);
    const { value, se } = linearCombination(model, row);
    if (se === null || t === null) return { value, se, lower: null, upper: null };
    const half = t * Math.sqrt(se * se + extra);
    return { value, se, lower: value - half, upper: value + half };
  });
}

/** A combination l'b of the coefficients with its standard error. */
export function linearCombination(
  model: LinearModel,
  l: ArrayLike<number>,
): { readonly value: number; readonly se: number | null } {
  const { kept, unscaledCovariance: u, rank } = model;
  let value = 0;
  let quadratic = 0;
  kept.forEach((j, a) => {
    value += l[j]! * model.coefficients[j]!;
    kept.forEach((k, b) => {
      quadratic += l[j]! * u.data[a * rank + b]! * l[k]!;
    });
  });
  return {
    value,
    se: model.residualSd === null ? null : model.residualSd * Math.sqrt(Math.max(0, quadratic)),
  };
}

/** Covariance matrix of the kept coefficients; `null` without residual degrees of freedom. */
export function coefficientCovariance(model: LinearModel): Matrix | null {
  if (model.residualSd === null) return null;
  const variance = model.residualSd ** 2;
  return makeMatrix(
    model.rank,
    model.rank,
    model.unscaledCovariance.data.map((v) => v * variance),
  );
}
