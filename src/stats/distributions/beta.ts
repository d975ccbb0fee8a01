import { logBeta } from "../special-functions/gamma-function.js";
import { incompleteBeta, incompleteBetaOf } from "../special-functions/incomplete-beta.js";
import { betaTerm, betaTermOf } from "../special-functions/saddle-point-terms.js";
import { solveQuantile } from "./solve-quantile.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

/** Density of the beta law. @example betaDensity(0.5, 2, 2) // 1.5 */
export function betaDensity(x: number, a: number, b: number): number {
  requirePositive("betaDensity", "a", a);
  requirePositive("betaDensity", "b", b);
  if (x < 0 || x > 1) return 0;
  if (x === 0) return a < 1 ? Number.POSITIVE_INFINITY : a === 1 ? b : 0;
  if (x === 1) return b < 1 ? Number.POSITIVE_INFINITY : b === 1 ? a : 0;
  return betaTerm(a, b, x, 1 - x) / (x * (1 - x));
}

/** P(X <= x), or P(X > x), of the beta law. @example betaCumulative(0.4, 2, 3) // 0.5248 */
export function betaCumulative(x: number, a: number, b: number, tail: Tail = "lower"): number {
  requirePositive("betaCumulative", "a", a);
  requirePositive("betaCumulative", "b", b);
  return incompleteBeta(a, b, x)[tail];
}

/** The value with a share `p` below it (above it). @example betaQuantile(0.5, 2, 2) // 0.5 */
export function betaQuantile(p: number, a: number, b: number, tail: Tail = "lower"): number {
  const u = betaLogOddsQuantile(p, a, b, tail);
  return u < 0 ? Math.exp(u) / (1 + Math.exp(u)) : 1 / (1 + Math.exp(-u));
}

/**
 * log(x / (1 - x)) of the beta quantile: keeps its digits next to both ends, so
 * that F and t quantiles, which are made from it, do too.
 */
export function betaLogOddsQuantile(p: number, a: number, b: number, tail: Tail = "lower"): number {
  requirePositive("betaQuantile", "a", a);
  requirePositive("betaQuantile", "b", b);
  requireProbability("betaQuantile", p);
  if (Number.isNaN(p)) return p;
  if (p === 0 || p === 1) {
    return (p === 0) === (tail === "lower") ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  }
  const side: Tail = p > 0.5 ? (tail === "lower" ? "upper" : "lower") : tail;
  const share = p > 0.5 ? 1 - p : p;
  const c = logBeta(a, b);
  // Next to an end the law is a power of the distance: exact enough there.
  const logLower = (Math.log(side === "lower" ? share : 1 - share) + Math.log(a) + c) / a;
  const logUpper = (Math.log(side === "upper" ? share : 1 - share) + Math.log(b) + c) / b;
  if (logLower < -80) return logLower;
  if (logUpper < -80) return -logUpper;
  const guess = side === "lower" ? logLower : -logUpper;
  const middle = Math.log(a / b);
  const shares = incompleteBetaOf(a, b);
  const term = betaTermOf(a, b);
  return solveQuantile({
    tail: (v) => {
      const { x, y } = sharesFromLogOdds(v);
      return shares(x, y)[side];
    },
    slope: (v) => {
      const { x, y } = sharesFromLogOdds(v);
      return term(x, y);
    },
    p: share,
    falling: side === "upper",
    start: Math.abs(guess) > 20 ? guess : middle,
  });
}

function sharesFromLogOdds(v: number): { x: number; y: number } {
  if (v > 0) {
    const e = Math.exp(-v);
    return { x: 1 / (1 + e), y: e / (1 + e) };
  }
  const e = Math.exp(v);
  return { x: e / (1 + e), y: 1 / (1 + e) };
}
