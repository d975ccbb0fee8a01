import type { Interval } from "../../core/measured.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { quantile } from "../descriptive/quantile.js";
import { normalCumulative, normalQuantile } from "../distributions/normal.js";

export interface TheilSen {
  readonly slope: number | null;
  /** Median of y - slope x. */
  readonly intercept: number | null;
  readonly interval: Interval | null;
  /** Mann-Kendall test that y does not rise or fall with x. */
  readonly trend: { readonly s: number; readonly z: number; readonly p: number } | null;
  /** Pairs with different x. */
  readonly pairs: number;
}

/**
 * Straight line by the median of all pairwise slopes: up to 29 % of the points may
 * be wild. Interval by Kendall's statistic. Source: P. K. Sen (1968).
 *
 * @throws UsageError when lengths differ or a number is not finite.
 * @example theilSen([0, 1, 2, 3], [0, 1, 2, 90]).slope // 1 < slope
 */
export function theilSen(x: ArrayLike<number>, y: ArrayLike<number>, level = 0.95): TheilSen {
  requireNumbers("theilSen", "x", x);
  requireNumbers("theilSen", "y", y, x.length);
  const n = x.length;
  const slopes: number[] = [];
  let s = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const dx = x[j]! - x[i]!;
      s += Math.sign(dx * (y[j]! - y[i]!));
      if (dx !== 0) slopes.push((y[j]! - y[i]!) / dx);
    }
  }
  if (slopes.length === 0)
    return { slope: null, intercept: null, interval: null, trend: null, pairs: 0 };
  const sorted = Float64Array.from(slopes).sort();
  const slope = quantile(sorted, 0.5)!;
  const counts = new Map<number, number>();
  for (let i = 0; i < n; i++) counts.set(y[i]!, (counts.get(y[i]!) ?? 0) + 1);
  let ties = 0;
  for (const t of counts.values()) ties += t * (t - 1) * (2 * t + 5);
  const variance = (n * (n - 1) * (2 * n + 5) - ties) / 18;
  const z = variance > 0 ? (s - Math.sign(s)) / Math.sqrt(variance) : 0;
  const reach = normalQuantile((1 + level) / 2) * Math.sqrt(variance);
  const at = (k: number) => sorted[Math.min(sorted.length, Math.max(1, Math.round(k))) - 1]!;
  return {
    slope,
    intercept: quantile(
      Array.from(x, (v, i) => y[i]! - slope * v),
      0.5,
    ),
    interval: {
      lower: at((sorted.length - reach) / 2),
      upper: at((sorted.length + reach) / 2 + 1),
      level,
    },
    trend: variance > 0 ? { s, z, p: Math.min(1, 2 * normalCumulative(-Math.abs(z))) } : null,
    pairs: sorted.length,
  };
}
