import { findRoot } from "../numeric/find-root.js";
import { averageOverChiScale } from "./chi-scale-average.js";
import { normalCumulative } from "./normal.js";
import { studentTCumulative, studentTQuantile } from "./student-t.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

/**
 * P(T <= t), or P(T > t), of the non-central t law: T = (Z + centre) / s. Computed
 * as the average of the normal law over s; absolute error about 1e-14.
 *
 * @example noncentralTCumulative(2, 10, 1) // 0.8076115625303748
 */
export function noncentralTCumulative(
  t: number,
  df: number,
  centre: number,
  tail: Tail = "lower",
): number {
  requirePositive("noncentralTCumulative", "df", df);
  if (Number.isNaN(t) || Number.isNaN(centre)) return Number.NaN;
  if (centre === 0) return studentTCumulative(t, df, tail);
  if (!Number.isFinite(t)) return t > 0 === (tail === "lower") ? 1 : 0;
  return Math.min(
    1,
    averageOverChiScale(df, (s) => normalCumulative(t * s - centre, tail)),
  );
}

/**
 * The value with a share `p` below it (above it), to about 1e-12.
 *
 * @example noncentralTQuantile(0.5, 10, 1) // 1.02572
 */
export function noncentralTQuantile(
  p: number,
  df: number,
  centre: number,
  tail: Tail = "lower",
): number {
  requireProbability("noncentralTQuantile", p);
  if (centre === 0) return studentTQuantile(p, df, tail);
  if (p === 0 || p === 1) {
    return (p === 0) === (tail === "lower") ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  }
  const f = (t: number) => noncentralTCumulative(t, df, centre, tail) - p;
  const sign = tail === "lower" ? 1 : -1;
  let low = centre - 1;
  let high = centre + 1;
  for (let step = 1; sign * f(low) > 0 && step < 1e300; step *= 2) low -= step;
  for (let step = 1; sign * f(high) < 0 && step < 1e300; step *= 2) high += step;
  return findRoot(f, low, high, { tolerance: 1e-13 }).x;
}
