import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import type { LikelihoodMethod } from "../linear-mixed/blocks.js";
import { alternate, beginVariances, placeEffects } from "./alternation.js";
import { makeNonlinearEngine } from "./engine.js";
import { describeNonlinearFit, type NonlinearMixedFit, type NonlinearSearch } from "./fit.js";
import { type NonlinearMixedData, prepareNonlinearMixed } from "./model.js";
import { pooledStart } from "./start.js";

export type { NonlinearMixedFit, NonlinearMixedStatus } from "./fit.js";

export interface NonlinearMixedOptions {
  readonly method?: LikelihoodMethod;
  /**
   * Starts: each one value per parameter of the mean (natural scale) or one per
   * fixed coefficient. The best after a pooled fit is used.
   */
  readonly starts: readonly ArrayLike<number>[];
  /** Random effects to start from, by group (parameters' own or log scale); zero elsewhere. */
  readonly effects?: Readonly<Record<string, readonly number[]>>;
  /** Improve the starts by a fit to all rows at once first (default true). */
  readonly pooled?: boolean;
  /** Free variance parameters of an earlier fit of the same model, to begin from. */
  readonly warm?: NonlinearMixedFit;
  readonly maxIterations?: number;
  /**
   * Under REML: "full" (default) maximises the restricted likelihood in every
   * variance parameter; "residual-only" settles the random-effect covariance by ML
   * and only the residual structure and sigma by REML, which is what nlme 3.1 does.
   */
  readonly restricted?: "full" | "residual-only";
}

/**
 * Fits a nonlinear mixed model: a mean function whose parameters are fixed
 * effects, covariates and normal random effects of each group; residuals normal,
 * with the variance and correlation structures of the linear model.
 *
 * Likelihood: the linearised one of Lindstrom and Bates (1990), by alternating
 * penalised nonlinear least squares and a linear mixed model on the linearised
 * mean until both agree; the alternation is accelerated (Anderson 1965), its
 * fixed point is the same. Variances of zero are ordinary points of the search.
 * Standard errors under ML carry the factor n/(n-p) on the variance.
 *
 * @throws UsageError for wrong names, lengths or numbers that are not finite.
 * @example
 * // trunk circumference of 5 trees (Draper and Smith 1998), logistic, random asymptote, ML:
 * // 191.049, 722.556, 344.162; sd 31.4826, sigma 7.84626, log-likelihood -131.5846
 */
export function fitNonlinearMixed(
  data: NonlinearMixedData,
  options: NonlinearMixedOptions,
): NonlinearMixedFit {
  const method = options.method ?? "ML";
  const model = prepareNonlinearMixed(data);
  if (model.q === 0) {
    throw new UsageError({
      needed: "at least one parameter with random effects",
      came: "none",
      where: "fitNonlinearMixed",
      todo: "Name parameters in `random`, or fit the curve by least squares.",
    });
  }
  for (const start of options.starts ?? []) requireList("fitNonlinearMixed", "a start", start);
  const { warm } = options;
  const beta =
    warm === undefined
      ? pooledStart(model, options.starts, options.pooled ?? true)
      : Float64Array.from(warm.fixed.estimates);
  const engine = makeNonlinearEngine(model, beta ?? new Float64Array(model.p));
  const size = engine.objective.thetaCount + (model.residual?.count ?? 0);
  if (beta === null) return describeNonlinearFit(engine, method, new Float64Array(size), noStart);
  const x = new Float64Array(size);
  if (warm === undefined) {
    beginVariances(engine, method, x);
    placeEffects(engine, x, options.effects ?? {});
  } else {
    engine.scale.set(warm.scale);
    x.set(warm.theta);
    if (engine.u.length === warm.engine.u.length) engine.u.set(warm.engine.u);
  }
  const search = alternate(engine, method, x, {
    maxIterations: options.maxIterations ?? 300,
    effectsByMl: method === "REML" && options.restricted === "residual-only",
  });
  return describeNonlinearFit(engine, method, search.x, search);
}

const noStart: NonlinearSearch = {
  x: new Float64Array(0),
  status: "no-start",
  iterations: 0,
  change: Number.POSITIVE_INFINITY,
  slope: Number.POSITIVE_INFINITY,
};
