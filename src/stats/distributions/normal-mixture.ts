import { findRoot } from "../numeric/find-root.js";
import { normalCumulative, normalQuantile } from "./normal.js";

/** One normal of a mixture; the weights of a mixture sum to 1. */
export interface WeighedNormal {
  readonly weight: number;
  readonly mean: number;
  readonly sd: number;
}

/**
 * Cumulative distribution of a mixture of normals.
 *
 * @example normalMixtureCumulative([{ weight: 1, mean: 0, sd: 1 }], 0) // 0.5
 */
export function normalMixtureCumulative(parts: readonly WeighedNormal[], x: number): number {
  let sum = 0;
  for (const { weight, mean, sd } of parts)
    sum += weight * (sd > 0 ? normalCumulative((x - mean) / sd) : x >= mean ? 1 : 0);
  return sum;
}

/**
 * Quantile of a mixture of normals: the root of its cumulative distribution, which lies
 * between the smallest and the largest quantile of its parts.
 *
 * @throws RangeError for a mixture without parts or a share outside (0, 1).
 * @example normalMixtureQuantile([{ weight: 1, mean: 0, sd: 1 }], 0.975) // 1.959963984540054
 */
export function normalMixtureQuantile(parts: readonly WeighedNormal[], share: number): number {
  if (parts.length === 0 || !(share > 0 && share < 1))
    throw new RangeError(`a quantile needs parts and a share in (0, 1): ${parts.length}, ${share}`);
  const z = normalQuantile(share);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { mean, sd } of parts) {
    low = Math.min(low, mean + z * sd);
    high = Math.max(high, mean + z * sd);
  }
  if (low === high) return low;
  return findRoot((x) => normalMixtureCumulative(parts, x) - share, low, high).x;
}
