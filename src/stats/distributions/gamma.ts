import { logGammaOnePlus } from "../special-functions/gamma-function.js";
import { incompleteGamma } from "../special-functions/incomplete-gamma.js";
import { poissonTerm } from "../special-functions/saddle-point-terms.js";
import { solveQuantile } from "./solve-quantile.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

/** Density of the gamma law with `shape` and `scale`. @example gammaDensity(1, 2) // 0.36787944117144233 */
export function gammaDensity(x: number, shape: number, scale = 1): number {
  requirePositive("gammaDensity", "shape", shape);
  requirePositive("gammaDensity", "scale", scale);
  const z = x / scale;
  if (z < 0) return 0;
  if (z === 0) return shape < 1 ? Number.POSITIVE_INFINITY : shape === 1 ? 1 / scale : 0;
  if (shape < 1) return (poissonTerm(shape, z) * shape) / (z * scale);
  return poissonTerm(shape - 1, z) / scale;
}

/** P(X <= x), or P(X > x), of the gamma law. @example gammaCumulative(3, 2.5) // 0.6937810815867216 */
export function gammaCumulative(x: number, shape: number, scale = 1, tail: Tail = "lower"): number {
  requirePositive("gammaCumulative", "shape", shape);
  requirePositive("gammaCumulative", "scale", scale);
  return incompleteGamma(shape, x / scale)[tail];
}

/** The value with a share `p` below it (above it). @example gammaQuantile(0.5, 1) // 0.6931471805599453 */
export function gammaQuantile(p: number, shape: number, scale = 1, tail: Tail = "lower"): number {
  requirePositive("gammaQuantile", "shape", shape);
  requirePositive("gammaQuantile", "scale", scale);
  requireProbability("gammaQuantile", p);
  if (Number.isNaN(p)) return p;
  if (p === 0 || p === 1) return (p === 0) === (tail === "lower") ? 0 : Number.POSITIVE_INFINITY;
  const side: Tail = p > 0.5 ? (tail === "lower" ? "upper" : "lower") : tail;
  const share = p > 0.5 ? 1 - p : p;
  // Near 0 the law is x^shape / Gamma(shape + 1): exact enough to be the answer.
  const logNear = (Math.log(tail === "lower" ? p : 1 - p) + logGammaOnePlus(shape)) / shape;
  if (side === "lower" || (tail === "lower" ? p : 1 - p) < 0.9) {
    if (logNear < -80) return scale * Math.exp(logNear);
  }
  const u = solveQuantile({
    tail: (v) => incompleteGamma(shape, Math.exp(v))[side],
    slope: (v) => poissonTerm(shape, Math.exp(v)) * shape,
    p: share,
    falling: side === "upper",
    start: side === "lower" ? Math.min(logNear, Math.log(shape)) : Math.log(shape + 1),
  });
  return scale * Math.exp(u);
}
