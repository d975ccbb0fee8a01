import { requirePositive, requireProbability, type Tail } from "./tail.js";

/**
 * Density of the Weibull law with `shape` and `scale`; shape 1 is the exponential law.
 *
 * @example weibullDensity(1, 1, 2) // 0.303265
 */
export function weibullDensity(x: number, shape: number, scale = 1): number {
  requirePositive("weibullDensity", "shape", shape);
  requirePositive("weibullDensity", "scale", scale);
  if (x < 0) return 0;
  if (x === 0) return shape < 1 ? Number.POSITIVE_INFINITY : shape === 1 ? 1 / scale : 0;
  const z = x / scale;
  return (shape / scale) * z ** (shape - 1) * Math.exp(-(z ** shape));
}

/** P(X <= x), or P(X > x). @example weibullCumulative(2, 1, 2) // 0.6321205588285577 */
export function weibullCumulative(
  x: number,
  shape: number,
  scale = 1,
  tail: Tail = "lower",
): number {
  requirePositive("weibullCumulative", "shape", shape);
  requirePositive("weibullCumulative", "scale", scale);
  const h = x <= 0 ? 0 : (x / scale) ** shape;
  return tail === "lower" ? -Math.expm1(-h) : Math.exp(-h);
}

/** The value with a share `p` below it (above it). @example weibullQuantile(0.5, 1, 2) // 1.3862943611198906 */
export function weibullQuantile(p: number, shape: number, scale = 1, tail: Tail = "lower"): number {
  requirePositive("weibullQuantile", "shape", shape);
  requirePositive("weibullQuantile", "scale", scale);
  requireProbability("weibullQuantile", p);
  const h = tail === "lower" ? -Math.log1p(-p) : -Math.log(p);
  return scale * h ** (1 / shape);
}
