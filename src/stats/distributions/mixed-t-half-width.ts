import { requireNumbers } from "../../core/require-numbers.js";
import { studentTCumulativeOf, studentTDensityOf, studentTQuantile } from "./student-t.js";

/**
 * Half the width of the central interval of a mixture of Student's t
 * distributions about one centre: the h with sum of weight x P(|t| <= h / scale)
 * equal to `level`. Weights sum to 1; a scale may be zero.
 *
 * @example mixedTHalfWidth([1, 1], [0.5, 0.5], 5, 0.95) // 2.5705818356363146
 */
export function mixedTHalfWidth(
  scales: readonly number[],
  weights: readonly number[],
  df: number,
  level: number,
  /** Student's t at that level, where it is known. */
  t = studentTQuantile(0.5 + level / 2, df),
): number {
  requireNumbers("mixedTHalfWidth", "scales", scales);
  requireNumbers("mixedTHalfWidth", "weights", weights, scales.length);
  const parts = scales
    .map((scale, i) => ({ scale, weight: weights[i]! }))
    .filter((p) => p.weight > 1e-9);
  const total = parts.reduce((s, p) => s + p.weight, 0);
  const sizes = parts.map((p) => p.scale);
  let low = t * Math.min(...sizes);
  let high = t * Math.max(...sizes);
  if (!(high > low)) return high;
  const cumulative = studentTCumulativeOf(df);
  const densityAt = studentTDensityOf(df);
  let h = t * Math.sqrt(parts.reduce((s, p) => s + p.weight * p.scale ** 2, 0) / total);
  for (let round = 0; round < 60; round++) {
    let outside = 0;
    let density = 0;
    for (const { scale, weight } of parts) {
      if (!(scale > 0)) continue;
      outside += weight * 2 * cumulative(h / scale, "upper");
      density += (weight * 2 * densityAt(h / scale)) / scale;
    }
    const excess = outside / total - (1 - level);
    if (excess > 0) low = h;
    else high = h;
    const next = h + (excess * total) / density;
    const step = next > low && next < high ? next : (low + high) / 2;
    if (Math.abs(step - h) <= 1e-9 * h) return step;
    h = step;
  }
  return h;
}
