import { minimiseSmooth, type SmoothMinimum } from "../numeric/minimise-smooth.js";
import type { LikelihoodMethod } from "./blocks.js";
import { countFactorParameters, parametersFromFactor } from "./covariance.js";
import type { LinearMixedData } from "./data.js";
import { type LinearMixedEngine, prepareLinearMixed } from "./engine.js";
import { describeFit, fittedInWorkingOrder, type LinearMixedFit } from "./fit.js";

export type { LinearMixedFit, RandomEstimates } from "./fit.js";

export interface LinearMixedOptions {
  readonly method?: LikelihoodMethod;
}

/**
 * Fits a linear mixed model by maximum likelihood or restricted maximum
 * likelihood (default): any number of nested grouping levels, general, diagonal
 * or common-variance covariance of the random effects, and residuals with
 * weights and continuous-time autocorrelation.
 *
 * Standard errors under ML carry the factor n/(n-p) on the variance, since the
 * ML estimate of sigma is too small. A fit on the boundary (a variance of zero,
 * a correlation of one) is valid and is reported once, with what it means.
 *
 * Definition: Pinheiro and Bates (2000), chapters 2 and 5; Bates et al. (2015).
 * Log-likelihoods follow the same constants as theirs.
 *
 * @throws UsageError when lengths differ or a number is not finite.
 * @example
 * fitLinearMixed({ response, fixed: { names: ["one", "day"], columns: [ones, day] },
 *   levels: [{ name: "person", group: person, names: ["one", "day"], columns: [ones, day] }] })
 * // the sleep-deprivation data: fixed 251.405, 10.467, sd 24.74 and 5.92, sigma 25.59
 */
export function fitLinearMixed(
  data: LinearMixedData,
  options: LinearMixedOptions = {},
): LinearMixedFit {
  const method = options.method ?? "REML";
  const engine = prepareLinearMixed(data);
  const result = optimise(engine, method);
  return describeFit(data, engine, method, result);
}

function optimise(engine: LinearMixedEngine, method: LikelihoodMethod): SmoothMinimum {
  const { residual, thetaCount } = engine;
  const total = thetaCount + (residual?.count ?? 0);
  const f = (x: Float64Array, g: Float64Array) => engine.deviance(x, method, g);
  const start = new Float64Array(total);
  if (residual !== null) start.set(residual.start, thetaCount);
  if (residual?.usesFitted) {
    engine.deviance(start, method, null);
    residual.setMean(fittedInWorkingOrder(engine, start, method, new Float64Array(engine.n)));
  }
  bestScale(engine, method, start);
  if (!residual?.usesFitted) return minimiseSmooth(f, start);
  // The variance depends on the fitted mean: alternate until both agree.
  const fitted = new Float64Array(engine.n);
  let at = start;
  let settled = false;
  let evaluations = 0;
  for (let round = 0; round < 200 && !settled; round++) {
    const step = minimiseSmooth(f, at, { rough: round < 2, tolerance: 1e-8 });
    evaluations += step.evaluations;
    let change = 0;
    for (let k = 0; k < total; k++) {
      change = Math.max(change, Math.abs(step.x[k]! - at[k]!) / Math.max(0.1, Math.abs(at[k]!)));
    }
    settled = round > 2 && change < 1e-7;
    at = Float64Array.from(step.x);
    if (!settled) residual.setMean(fittedInWorkingOrder(engine, at, method, fitted));
  }
  const last = minimiseSmooth(f, at);
  return {
    ...last,
    converged: last.converged && settled,
    evaluations: evaluations + last.evaluations,
  };
}

/** Starts every level at the common relative size that does best, from a coarse list. */
function bestScale(engine: LinearMixedEngine, method: LikelihoodMethod, x: Float64Array): void {
  let best = Number.POSITIVE_INFINITY;
  let chosen = 1;
  const write = (s: number) => {
    let from = 0;
    for (const l of engine.levels) {
      const factor = new Float64Array(l.q * l.q);
      for (let i = 0; i < l.q; i++) factor[i * l.q + i] = s;
      parametersFromFactor(l.shape, l.q, factor, x, from);
      from += countFactorParameters(l.shape, l.q);
    }
  };
  if (engine.levels.length === 0) return;
  for (const s of [0.1, 0.3, 1, 3, 10]) {
    write(s);
    const value = engine.deviance(x, method, null);
    if (value < best) {
      best = value;
      chosen = s;
    }
  }
  write(chosen);
}
