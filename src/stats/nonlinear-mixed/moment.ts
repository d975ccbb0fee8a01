import { semidefiniteFactor } from "../linear-algebra/small-matrix.js";

/** A normal prior for one individual's parameters at one value of the variances, with its working memory. */
export interface Moment {
  /** Lower factor of between + covariance of the population mean. */
  readonly l: Float64Array;
  readonly mean: Float64Array;
  readonly sigma: number;
  readonly t: Float64Array;
  readonly eta: Float64Array;
  readonly covariance: Float64Array;
}

/** Factor of the spread between individuals and of what is not known of their mean. */
export function makeMoment(
  between: readonly (readonly number[])[],
  meanCovariance: readonly (readonly number[])[],
  sigma: number,
  k: number,
): Moment {
  const whole = between.flatMap((row, a) => row.map((each, b) => each + meanCovariance[a]![b]!));
  return {
    l: semidefiniteFactor(whole, k),
    mean: Float64Array.from(meanCovariance.flat()),
    sigma,
    t: new Float64Array(k),
    eta: new Float64Array(k),
    covariance: new Float64Array(k * k),
  };
}
