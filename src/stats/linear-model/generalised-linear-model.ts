import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import type { Matrix } from "../linear-algebra/matrix.js";
import { findRoot } from "../numeric/find-root.js";
import { digamma } from "../special-functions/gamma-function.js";
import { fitLinearModel, type LinearModel } from "./fit-linear-model.js";
import { type Family, type Law, lawOf, logDensity } from "./response-law.js";

export interface GeneralisedLinearModel {
  readonly coefficients: readonly (number | null)[];
  readonly standardErrors: readonly (number | null)[];
  readonly deviance: number;
  readonly nullDeviance: number;
  readonly dfResidual: number;
  /** 1 for binomial, Poisson and negative binomial; Pearson's estimate for gamma. */
  readonly dispersion: number;
  /** Shape of the negative binomial: variance m + m^2 / shape. */
  readonly shape: number | null;
  readonly logLikelihood: number;
  /** Estimated parameters behind `logLikelihood`. */
  readonly parameters: number;
  readonly fitted: Float64Array;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * Generalised linear model by iteratively reweighted least squares on the columns
 * of x. Source: McCullagh and Nelder (1989).
 *
 * @throws UsageError when a response is outside the law's range.
 * @example fitGeneralisedLinearModel(matrixFromRows([[1], [1], [1]]), [2, 4, 6], "poisson").coefficients[0] // 1.38629
 */
export function fitGeneralisedLinearModel(
  x: Matrix,
  y: ArrayLike<number>,
  family: Family,
  options: { readonly weights?: ArrayLike<number>; readonly maxIterations?: number } = {},
): GeneralisedLinearModel {
  const { maxIterations = 100 } = options;
  requireResponses(y, family);
  const w = Float64Array.from(options.weights ?? new Float64Array(y.length).fill(1));
  if (family !== "negative-binomial") {
    return finish(x, y, w, family, null, iterate(x, y, w, lawOf(family, null), maxIterations));
  }
  // Alternate between the mean at a fixed shape and the shape at fixed means.
  let run = iterate(x, y, w, lawOf("poisson", null), maxIterations);
  let shape = shapeOf(y, w, run.fitted);
  let rounds = 0;
  for (; rounds < maxIterations && shape !== null; rounds++) {
    run = iterate(x, y, w, lawOf(family, shape), maxIterations);
    const next = shapeOf(y, w, run.fitted);
    const settled = next !== null && Math.abs(next - shape) < 1e-12 * shape;
    shape = next;
    if (settled) break;
  }
  const converged = run.converged && shape !== null && rounds < maxIterations;
  return finish(x, y, w, shape === null ? "poisson" : family, shape, { ...run, converged });
}

interface Run {
  readonly model: LinearModel;
  readonly fitted: Float64Array;
  readonly deviance: number;
  readonly iterations: number;
  readonly converged: boolean;
}

function iterate(x: Matrix, y: ArrayLike<number>, w: Float64Array, law: Law, most: number): Run {
  const n = y.length;
  const total = w.reduce((s, v) => s + v, 0);
  const mean = w.reduce((s, v, i) => s + v * y[i]!, 0) / total;
  let fitted = Float64Array.from(y, (v) => (v + mean) / 2);
  let eta = fitted.map(law.link);
  let deviance = Number.POSITIVE_INFINITY;
  let model: LinearModel | undefined;
  let converged = false;
  let iterations = 0;
  while (iterations < most && !converged) {
    iterations++;
    const z = new Float64Array(n);
    const weights = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const slope = law.slope(fitted[i]!);
      z[i] = eta[i]! + (y[i]! - fitted[i]!) / slope;
      weights[i] = (w[i]! * slope * slope) / law.variance(fitted[i]!);
    }
    model = fitLinearModel(x, z, { weights });
    eta = Float64Array.from(model.fitted);
    fitted = eta.map(law.inverse);
    let next = 0;
    for (let i = 0; i < n; i++) next += w[i]! * law.deviance(y[i]!, fitted[i]!);
    converged = Math.abs(next - deviance) < 1e-14 * (Math.abs(next) + 0.1);
    if (!Number.isFinite(next)) break;
    deviance = next;
  }
  return { model: model!, fitted, deviance, iterations, converged };
}

function finish(
  x: Matrix,
  y: ArrayLike<number>,
  w: Float64Array,
  family: Family,
  shape: number | null,
  run: Run,
): GeneralisedLinearModel {
  const { model, fitted } = run;
  const law = lawOf(family, shape);
  const df = model.dfResidual;
  let pearson = 0;
  for (let i = 0; i < y.length; i++) {
    pearson += (w[i]! * (y[i]! - fitted[i]!) ** 2) / law.variance(fitted[i]!);
  }
  const dispersion = family === "gamma" && df > 0 ? pearson / df : 1;
  const standardErrors = model.coefficients.map((b, j) => {
    const k = model.kept.indexOf(j);
    return b === null
      ? null
      : Math.sqrt(dispersion * model.unscaledCovariance.data[k * model.rank + k]!);
  });
  const total = w.reduce((s, v) => s + v, 0);
  const mean = w.reduce((s, v, i) => s + v * y[i]!, 0) / total;
  const nullDeviance = w.reduce((s, v, i) => s + v * law.deviance(y[i]!, mean), 0);
  // As is customary, gamma's likelihood is taken at the dispersion deviance / n.
  const scale = run.deviance / total;
  const logLikelihood = w.reduce(
    (s, v, i) => s + logDensity(y[i]!, fitted[i]!, v, family, shape ?? scale),
    0,
  );
  return {
    coefficients: model.coefficients,
    standardErrors,
    deviance: run.deviance,
    nullDeviance,
    dfResidual: df,
    dispersion,
    shape,
    logLikelihood,
    parameters: model.rank + (family === "gamma" || family === "negative-binomial" ? 1 : 0),
    fitted,
    iterations: run.iterations,
    converged: run.converged && x.rows === y.length,
  };
}

/** Maximum-likelihood shape at fixed means; `null` when the counts are no wider than Poisson's. */
function shapeOf(y: ArrayLike<number>, w: Float64Array, m: Float64Array): number | null {
  const score = (logShape: number) => {
    const s = Math.exp(logShape);
    let total = 0;
    for (let i = 0; i < y.length; i++) {
      total +=
        w[i]! *
        (digamma(s + y[i]!) -
          digamma(s) +
          Math.log(s / (s + m[i]!)) +
          1 -
          (s + y[i]!) / (s + m[i]!));
    }
    return total * s;
  };
  const root = findRoot(score, -10, 14, { tolerance: 1e-14 });
  return root.converged ? Math.exp(root.x) : null;
}

function requireResponses(y: ArrayLike<number>, family: Family): void {
  requireList("fitGeneralisedLinearModel", "the responses", y);
  for (let i = 0; i < y.length; i++) {
    const v = y[i]!;
    const fits = family === "binomial" ? v >= 0 && v <= 1 : family === "gamma" ? v > 0 : v >= 0;
    if (fits && Number.isFinite(v)) continue;
    throw new UsageError({
      needed:
        family === "binomial"
          ? "shares between 0 and 1"
          : family === "gamma"
            ? "responses above 0"
            : "counts of 0 or more",
      came: `response ${i} was ${v}`,
      where: "fitGeneralisedLinearModel",
      todo: "Check the response or choose another law.",
    });
  }
}
