import { beginPosterior, forget, takeIn } from "./individual-posterior.js";
import {
  type IndividualPrediction,
  type PredictionOptions,
  predictFrom,
} from "./individual-prediction.js";

import type { MeanFunction } from "./model.js";
import type { IndividualPrior } from "./prior.js";

/** Everything known of one individual after its observations. Reused by the next update. */
export interface Individual {
  /** Observations taken in so far. */
  readonly count: number;
  /** Most probable parameters, working scale (log where so marked), and natural scale. */
  readonly eta: Float64Array;
  readonly phi: Float64Array;
  /** Covariance of `eta`, k x k. */
  readonly covariance: Float64Array;
  readonly converged: boolean;
  /** Takes in one more observation (x not before the last one where residuals correlate). */
  observe(x: number, y: number): void;
  /** Forgets all observations. */
  reset(): void;
  /** Expected mean at x with interval. */
  predict(x: number, options?: PredictionOptions): IndividualPrediction;
  /** Expected rise of the mean from x1 to x2 with interval. */
  predictRise(x1: number, x2: number, options?: PredictionOptions): IndividualPrediction;
}

/**
 * The posterior of a new individual's curve, starting from the prior of a fitted
 * model and updated observation by observation.
 *
 * The parameters are normal around the population's mean; given observations,
 * their mode is found by Gauss-Newton and their covariance from the curvature
 * there, including what the fit does not know of the population mean. Standard
 * errors include the uncertainty of the variances (twice the variance of the
 * prediction as the variances move by their standard errors, after Prasad and
 * Rao 1990), and intervals use t with Satterthwaite degrees of freedom.
 *
 * @example
 * const one = makeIndividual(prior, mean); one.observe(3, 12.1); one.predict(10)
 */
export function makeIndividual(prior: IndividualPrior, mean: MeanFunction): Individual {
  const posterior = beginPosterior(prior, mean);
  const { eta, phi, covariance } = posterior;
  return {
    get count() {
      return posterior.count;
    },
    eta,
    phi,
    covariance,
    get converged() {
      return posterior.converged;
    },
    observe: (x, y) => takeIn(posterior, x, y),
    reset: () => forget(posterior),
    predict: (x, options = {}) => predictFrom(posterior, [{ x, sign: 1 }], options),
    predictRise: (x1, x2, options = {}) =>
      predictFrom(
        posterior,
        [
          { x: x2, sign: 1 },
          { x: x1, sign: -1 },
        ],
        options,
      ),
  };
}
