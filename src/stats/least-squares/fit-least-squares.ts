import { descend } from "./descend.js";
import { describeEnd } from "./describe-end.js";
import type {
  LeastSquaresData,
  LeastSquaresFit,
  LeastSquaresModel,
  LeastSquaresOptions,
  LeastSquaresStop,
} from "./least-squares-fit.js";
import { giveBack, takeMemory } from "./memory.js";
import { plainArray } from "./plain-array.js";
import { freeInOrder } from "./problem.js";
import { beginSearch } from "./search.js";

export type * from "./least-squares-fit.js";

/**
 * Least squares for a nonlinear model: Levenberg-Marquardt in the scale of the
 * gradient's columns, on a Householder QR of the gradient (never on J'J), with
 * linear parameters projected out (Kaufman's form of variable projection), and
 * bounds by an active set that is reconsidered at every step, so a parameter
 * that touched a bound can leave it.
 *
 * Sources: More, Lecture Notes in Mathematics 630 (1978) 105-116; Golub and
 * Pereyra, SIAM J Numer Anal 10 (1973) 413-432; Kaufman, BIT 15 (1975) 49-57.
 *
 * Never throws on ill-posed data: the stop reason says what happened.
 *
 * @example
 * // y = a exp(-b x) through exact points: stop is "exact-fit" or "rounding"
 * fitLeastSquares(model, { y }, { start: [1, 0.1] }).theta // [2, 0.3]
 */
export function fitLeastSquares(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: LeastSquaresOptions,
): LeastSquaresFit {
  const problem = freeInOrder(model, data, options);
  const { n, p, m } = problem;
  if (n < m) return failedFit(plainArray(options.start), m, 0, n, "too-few-rows");
  const memory = takeMemory(n, p, m);
  const search = beginSearch(problem, memory, options);
  const fit = Number.isFinite(search.rss)
    ? describeEnd(search, descend(search, options.tolerance ?? 1e-10, options.maxIterations ?? 300))
    : failedFit(plainArray(search.here.theta), m, search.evaluations, n, "outside-domain");
  giveBack(memory);
  return fit;
}

function failedFit(
  theta: number[],
  freeCount: number,
  evaluations: number,
  n: number,
  stop: LeastSquaresStop,
): LeastSquaresFit {
  const p = theta.length;
  return {
    theta,
    rss: Number.POSITIVE_INFINITY,
    converged: false,
    stop,
    iterations: 0,
    evaluations,
    relativeOffset: null,
    gradientNorm: Number.POSITIVE_INFINITY,
    unscaledCovariance: null,
    atBound: new Array<boolean>(p).fill(false),
    inflation: new Array<number | null>(p).fill(null),
    freeCount,
    values: new Array<number>(n).fill(0),
  };
}
