import { invertGram, triangularise } from "./kernels.js";
import type { LeastSquaresFit, LeastSquaresStop } from "./least-squares-fit.js";
import { plainArray } from "./plain-array.js";
import type { Search } from "./search.js";

/** The fit where the search ended: covariance, collinearity, what rests on a bound. */
export function describeEnd(search: Search, stop: LeastSquaresStop): LeastSquaresFit {
  const { n, p, m, linear, order } = search.problem;
  const { free } = search.memory;
  const atBound = new Array<boolean>(p).fill(false);
  const kept: number[] = [];
  for (let c = 0; c < m; c++) {
    const j = order[c]!;
    if (c >= linear && free[c - linear] === 0) atBound[j] = true;
    else kept.push(j);
  }
  return {
    theta: plainArray(search.here.theta),
    rss: search.rss,
    converged: stop === "relative-offset" || stop === "rounding" || stop === "exact-fit",
    stop,
    iterations: search.iterations,
    evaluations: search.evaluations,
    relativeOffset: Number.isFinite(search.offset) ? search.offset : null,
    gradientNorm: largestCosine(search, kept),
    ...covarianceOf(search, kept),
    atBound,
    freeCount: kept.length,
    values: plainArray(search.here.values, n),
  };
}

/** Largest cosine between the residuals and a column of the gradient that is not held. */
function largestCosine({ problem, here, rss }: Search, kept: readonly number[]): number {
  const { n, p } = problem;
  const rootRss = Math.sqrt(rss);
  let largest = 0;
  for (const j of kept) {
    let product = 0;
    let square = 0;
    for (let i = 0; i < n; i++) {
      const g = here.gradient[i * p + j]!;
      product += g * here.residual[i]!;
      square += g * g;
    }
    if (square > 0 && rootRss > 0) {
      largest = Math.max(largest, Math.abs(product) / (Math.sqrt(square) * rootRss));
    }
  }
  return largest;
}

/** (J'WJ)^-1 of what is not held, `null` where singular, and what the others explain of each column. */
function covarianceOf(
  { problem, memory, here }: Search,
  kept: readonly number[],
): Pick<LeastSquaresFit, "unscaledCovariance" | "inflation"> {
  const { n, p, m } = problem;
  const { a, b, inverse, work } = memory;
  const { gradient } = here;
  const k = kept.length;
  const inflation = new Array<number | null>(p).fill(null);
  const covariance = new Array<number>(p * p).fill(0);
  if (k < m) {
    for (let c = 0; c < k; c++) {
      for (let i = 0; i < n; i++) a[c * n + i] = gradient[i * p + kept[c]!]!;
    }
    triangularise(a, n, k, b);
  }
  if (n < k || !invertGram(a, n, k, inverse, work)) {
    return { unscaledCovariance: k > 0 ? null : covariance, inflation };
  }
  for (let c = 0; c < k; c++) {
    const j = kept[c]!;
    let square = 0;
    for (let i = 0; i < n; i++) square += gradient[i * p + j]! * gradient[i * p + j]!;
    inflation[j] = square * inverse[c * k + c]!;
    for (let d = 0; d < k; d++) covariance[j * p + kept[d]!] = inverse[c * k + d]!;
  }
  return { unscaledCovariance: covariance, inflation };
}
