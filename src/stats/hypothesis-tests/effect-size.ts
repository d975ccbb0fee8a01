import type { Interval } from "../../core/measured.js";
import { momentsAbout } from "../descriptive/describe.js";
import { noncentralTCumulative } from "../distributions/noncentral-t.js";
import { normalQuantile } from "../distributions/normal.js";
import { findRoot } from "../numeric/find-root.js";
import { logGamma } from "../special-functions/gamma-function.js";
import { requireGroups } from "./one-way-anova.js";

export interface HedgesG {
  /** Cohen's d: difference of means (x minus y) over the pooled standard deviation. */
  readonly d: number;
  /** d times the exact small-sample correction. */
  readonly g: number;
  readonly correction: number;
  /** Large-sample variance (n1 + n2)/(n1 n2) + g^2 / (2 (n1 + n2)). */
  readonly variance: number;
  /** From the non-central t law; holds its level in small samples. */
  readonly interval: Interval;
  /** g -+ z sqrt(variance). */
  readonly normalInterval: Interval;
}

/**
 * Standardised difference of two means with small-sample correction. `null` when
 * nothing varies. Source: L. V. Hedges (1981).
 *
 * @throws UsageError when a list has fewer than two values.
 * @example hedgesG([5, 6, 7], [2, 3, 4]).g // 2.39365
 */
export function hedgesG(x: ArrayLike<number>, y: ArrayLike<number>, level = 0.95): HedgesG | null {
  requireGroups("hedgesG", [x, y], 2);
  const a = momentsAbout(x);
  const b = momentsAbout(y);
  const n1 = x.length;
  const n2 = y.length;
  const df = n1 + n2 - 2;
  const sd = Math.sqrt((a.squares + b.squares) / df);
  if (!(sd > 0)) return null;
  const d = (a.mean - b.mean) / sd;
  const correction = Math.exp(logGamma(df / 2) - logGamma((df - 1) / 2)) / Math.sqrt(df / 2);
  const g = correction * d;
  const variance = (n1 + n2) / (n1 * n2) + g ** 2 / (2 * (n1 + n2));
  const z = normalQuantile((1 + level) / 2) * Math.sqrt(variance);
  const scale = Math.sqrt((n1 * n2) / (n1 + n2));
  return {
    d,
    g,
    correction,
    variance,
    interval: {
      lower: (centreWith(d * scale, df, (1 - level) / 2, "upper") / scale) * correction,
      upper: (centreWith(d * scale, df, (1 - level) / 2, "lower") / scale) * correction,
      level,
    },
    normalInterval: { lower: g - z, upper: g + z, level },
  };
}

/** The centre of the non-central t law that leaves a share p beyond t. */
function centreWith(t: number, df: number, p: number, tail: "lower" | "upper"): number {
  const f = (centre: number) => noncentralTCumulative(t, df, centre, tail) - p;
  let reach = 4 + Math.abs(t);
  while (f(t - reach) * f(t + reach) > 0 && reach < 1e6) reach *= 2;
  return findRoot(f, t - reach, t + reach, { tolerance: 1e-11 }).x;
}
