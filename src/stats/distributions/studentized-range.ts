import { findRoot } from "../numeric/find-root.js";
import { averageOverChiScale } from "./chi-scale-average.js";
import { normalCumulative, normalDensity } from "./normal.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

const step = 0.22;
const reach = 8.58;
const nodes = Array.from({ length: Math.round((2 * reach) / step) + 1 }, (_, i) => {
  const z = -reach + i * step;
  return { z, density: normalDensity(z), below: normalCumulative(z) };
});

/**
 * P(Q <= q), or P(Q > q), of the studentised range of `means` means with `df`
 * degrees of freedom behind their standard error. Both integrals by trapezoid
 * sums that converge exponentially; absolute error below 1e-10, and the upper
 * tail is summed for itself. Definition: H. L. Harter (1960).
 *
 * @example studentizedRangeCumulative(3.876776750013181, 3, 10, "upper") // 0.05
 */
export function studentizedRangeCumulative(
  q: number,
  means: number,
  df: number,
  tail: Tail = "lower",
): number {
  requirePositive("studentizedRangeCumulative", "df", df);
  requirePositive("studentizedRangeCumulative", "number of means minus 1", means - 1);
  if (Number.isNaN(q)) return q;
  if (q <= 0) return tail === "lower" ? 0 : 1;
  if (q === Number.POSITIVE_INFINITY) return tail === "lower" ? 1 : 0;
  const p = averageOverChiScale(df, (s) => rangeTail(q * s, means, tail));
  return Math.min(1, Math.max(0, p));
}

/** The value with a share `p` below it (above it). @example studentizedRangeQuantile(0.95, 3, 10) // 3.876776750013181 */
export function studentizedRangeQuantile(
  p: number,
  means: number,
  df: number,
  tail: Tail = "lower",
): number {
  requireProbability("studentizedRangeQuantile", p);
  if (p === 0 || p === 1) return (p === 0) === (tail === "lower") ? 0 : Number.POSITIVE_INFINITY;
  const side: Tail = p > 0.5 ? (tail === "lower" ? "upper" : "lower") : tail;
  const small = p > 0.5 ? 1 - p : p;
  const f = (u: number) => studentizedRangeCumulative(Math.exp(u), means, df, side) - small;
  const sign = side === "lower" ? 1 : -1;
  let low = 0;
  let high = 1;
  for (let i = 0; sign * f(low) > 0 && i < 600; i++) low -= 1;
  for (let i = 0; sign * f(high) < 0 && i < 600; i++) high += 1;
  return Math.exp(findRoot(f, low, high, { tolerance: 1e-12 }).x);
}

/** The same for the range of normal values whose standard deviation is known. */
function rangeTail(w: number, means: number, tail: Tail): number {
  if (tail === "lower" && w > 80) return 1;
  const power = means - 1;
  let s = 0;
  if (tail === "lower") {
    for (const { z, density, below } of nodes) {
      // Each difference from the side where both terms are small.
      const inside =
        z - w > 0
          ? normalCumulative(z - w, "upper") - normalCumulative(z, "upper")
          : below - normalCumulative(z - w);
      s += density * inside ** power;
    }
    return s * step * means;
  }
  const last = Math.max(reach, w / 2 + reach);
  for (let i = 0; -reach + i * step <= last; i++) {
    const node = nodes[i];
    const z = node?.z ?? -reach + i * step;
    const below = node?.below ?? 1;
    const share = normalCumulative(z - w) / below;
    const outside = share >= 1 ? 1 : -Math.expm1(power * Math.log1p(-share));
    s += (node?.density ?? normalDensity(z)) * below ** power * outside;
  }
  return Math.min(1, s * step * means);
}
