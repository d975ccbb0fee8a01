import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { varianceOf } from "../descriptive/describe.js";
import { normalMad } from "../descriptive/mad-to-sd.js";
import { quantile } from "../descriptive/quantile.js";
import type { Matrix } from "../linear-algebra/matrix.js";
import { fitLinearModel } from "../linear-model/fit-linear-model.js";
import { huberInfluence, type InfluenceFunction } from "./influence-function.js";

export interface RobustRegression {
  readonly coefficients: readonly (number | null)[];
  readonly standardErrors: readonly (number | null)[];
  /** Robust standard deviation of the residuals. */
  readonly scale: number;
  /** Weight of each row, 0 to 1. */
  readonly weights: Float64Array;
  readonly residuals: Float64Array;
  readonly iterations: number;
  /** `"exact-fit"`: more than half of the points lie on one line, so no scale exists. */
  readonly status: "converged" | "did-not-converge" | "exact-fit";
}

/**
 * Linear regression by M-estimation: least squares reweighted by an influence
 * function, scale = median |residual| / 0.6745. Guards against wild responses, not
 * against wild rows of x. Source: P. J. Huber, Robust Statistics (1981), ch. 7.
 *
 * @throws UsageError for unusable input (see fitLinearModel).
 * @example robustRegression(matrixFromRows([[1, 1], [1, 2], [1, 3], [1, 4], [1, 5]]), [1, 2, 3, 4, 50]).coefficients[1] // 4.42844
 */
export function robustRegression(
  x: Matrix,
  y: ArrayLike<number>,
  options: { readonly influence?: InfluenceFunction; readonly maxIterations?: number } = {},
): RobustRegression {
  const { influence = huberInfluence(), maxIterations = 2000 } = options;
  requireNumbers("robustRegression", "the responses", y, x.rows);
  if (x.rows <= x.cols) {
    throw new UsageError({
      needed: `more than ${x.cols} rows`,
      came: `${x.rows} came`,
      where: "robustRegression",
      todo: "Fit fewer coefficients.",
    });
  }
  let fit = fitLinearModel(x, y);
  let scale = scaleOf(fit.residuals);
  let weights = new Float64Array(x.rows).fill(1);
  let status: RobustRegression["status"] = "did-not-converge";
  const size = Math.sqrt(fit.tss / x.rows) || 1;
  let iterations = 0;
  for (; iterations < maxIterations; iterations++) {
    if (!(scale > 1e-12 * size)) {
      status = "exact-fit";
      break;
    }
    weights = fit.residuals.map((r) => influence.weight(r / scale));
    const next = fitLinearModel(x, y, { weights });
    let change = 0;
    let total = 0;
    for (let i = 0; i < x.rows; i++) {
      change += (next.residuals[i]! - fit.residuals[i]!) ** 2;
      total += fit.residuals[i]! ** 2;
    }
    fit = next;
    scale = scaleOf(fit.residuals);
    if (change <= 1e-26 * total) {
      status = "converged";
      break;
    }
  }
  return {
    coefficients: fit.coefficients,
    standardErrors: errorsOf(x, y, fit.residuals, scale, influence),
    scale,
    weights,
    residuals: fit.residuals,
    iterations,
    status,
  };
}

function scaleOf(residuals: Float64Array): number {
  return quantile(residuals.map(Math.abs), 0.5)! / normalMad;
}

/** Asymptotic standard errors with Huber's small-sample correction. */
function errorsOf(
  x: Matrix,
  y: ArrayLike<number>,
  residuals: Float64Array,
  scale: number,
  influence: InfluenceFunction,
): (number | null)[] {
  const plain = fitLinearModel(x, y);
  const df = x.rows - plain.rank;
  let squares = 0;
  const slopes = residuals.map((r) => influence.slope(r / scale));
  for (const r of residuals) squares += (r * influence.weight(r / scale)) ** 2;
  const mean = slopes.reduce((s, v) => s + v, 0) / slopes.length;
  const correction = 1 + (plain.rank * varianceOf(slopes)) / (x.rows * mean * mean);
  const sd = Math.sqrt(squares / df) * (correction / mean);
  return plain.coefficients.map((b, j) => {
    const k = plain.kept.indexOf(j);
    if (b === null || !(mean > 0)) return null;
    return sd * Math.sqrt(plain.unscaledCovariance.data[k * plain.rank + k]!);
  });
}
