import { requireList } from "../../core/require-numbers.js";
import {
  fitLeastSquares,
  type LeastSquaresData,
  type LeastSquaresFit,
  type LeastSquaresModel,
  type LeastSquaresOptions,
} from "./fit-least-squares.js";

export interface SerialFit {
  readonly fit: LeastSquaresFit;
  /** Correlation of two errors one unit of time apart. */
  readonly phi: number;
  /** Correlation with the row before, one a row (first is 0). */
  readonly carry: number[];
  readonly logLikelihood: number;
  /** "independent" or "inseparable" when the likelihood is greatest at an end of the range. */
  readonly edge: "independent" | "inseparable" | null;
}

/**
 * Least squares with errors that resemble their neighbours in time:
 * continuous-time first-order autoregression, correlation phi^|time between|,
 * for any spacing of rows, fitted by maximum likelihood. `times` must rise
 * strictly. Returns `null` when they do not or nothing could be fitted.
 *
 * Source: Jones, Longitudinal Data with Serial Correlation (1993), chapter 3;
 * Pinheiro and Bates (2000), section 5.3 (`corCAR1`).
 *
 * @example
 * const model = { parameters: 1, evaluate: (a, values, gradient) => (values.fill(a[0]), gradient.fill(1), true) };
 * fitSerialLeastSquares(model, { y: [1, 2, 3, 3, 2, 1, 0, 1] }, [0, 1, 2, 3, 4, 5, 6, 7], { start: [1] }).phi // 0.566685
 */
export function fitSerialLeastSquares(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  times: ArrayLike<number>,
  options: LeastSquaresOptions,
): SerialFit | null {
  requireList("fitSerialLeastSquares", "times", times);
  const n = data.y.length;
  if (n < 3) return null;
  let shortest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < n; i++) {
    const step = times[i]! - times[i - 1]!;
    if (!(step > 0)) return null;
    shortest = Math.min(shortest, step);
  }
  const span = times[n - 1]! - times[0]!;
  let start = options.start;

  const at = (logRange: number) => {
    const range = Math.exp(logRange);
    const carry = new Array<number>(n).fill(0);
    let logSpread = 0;
    for (let i = 1; i < n; i++) {
      const step = times[i]! - times[i - 1]!;
      carry[i] = Math.exp(-step / range);
      logSpread += Math.log(-Math.expm1((-2 * step) / range));
    }
    const fit = fitLeastSquares(model, { ...data, carry }, { ...options, start });
    if (Number.isFinite(fit.rss)) start = fit.theta;
    const logLikelihood = -0.5 * n * (Math.log((2 * Math.PI * fit.rss) / n) + 1) - 0.5 * logSpread;
    return {
      fit,
      carry,
      logLikelihood: Number.isFinite(logLikelihood) ? logLikelihood : -Infinity,
    };
  };

  // A coarse walk over the range of correlation, then a golden section.
  const low = Math.log(shortest / 30);
  const high = Math.log(1000 * span);
  const steps = 24;
  let best = 0;
  let bestLogLik = -Infinity;
  for (let s = 0; s <= steps; s++) {
    const { logLikelihood } = at(low + ((high - low) * s) / steps);
    if (logLikelihood > bestLogLik + 1e-10) {
      bestLogLik = logLikelihood;
      best = s;
    }
  }
  if (bestLogLik === -Infinity) return null;
  const width = (high - low) / steps;
  let a = low + width * Math.max(0, best - 1);
  let b = low + width * Math.min(steps, best + 1);
  const golden = (Math.sqrt(5) - 1) / 2;
  let c = b - golden * (b - a);
  let d = a + golden * (b - a);
  let atC = at(c).logLikelihood;
  let atD = at(d).logLikelihood;
  for (let i = 0; i < 80 && b - a > 1e-9; i++) {
    if (atC >= atD) {
      b = d;
      d = c;
      atD = atC;
      c = b - golden * (b - a);
      atC = at(c).logLikelihood;
    } else {
      a = c;
      c = d;
      atC = atD;
      d = a + golden * (b - a);
      atD = at(d).logLikelihood;
    }
  }
  const logRange = (a + b) / 2;
  const end = at(logRange);
  const longest = Math.exp(-shortest / Math.exp(logRange));
  return {
    fit: end.fit,
    phi: Math.exp(-1 / Math.exp(logRange)),
    carry: end.carry,
    logLikelihood: end.logLikelihood,
    edge: longest < 1e-6 ? "independent" : logRange > high - width ? "inseparable" : null,
  };
}
