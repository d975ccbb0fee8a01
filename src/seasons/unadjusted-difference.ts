import type { Interval } from "../core/measured.js";
import { noncentralTCumulative } from "../stats/distributions/noncentral-t.js";
import { studentTQuantile, studentTTwoSided } from "../stats/distributions/student-t.js";
import { logGamma } from "../stats/gamma-function.js";

/** The plain difference of two groups, second minus first, without any adjustment. */
export interface UnadjustedDifference {
  readonly difference: number;
  readonly se: number;
  readonly df: number;
  readonly p: number;
  readonly interval: Interval;
  /** Hedges' g: the difference in standard deviations, made unbiased for small groups. */
  readonly hedgesG: number | null;
  readonly hedgesInterval: Interval | null;
}

/**
 * Welch's t (spreads may differ) and Hedges' g with the exact correction and an
 * interval from the noncentral t. Null where a group has fewer than two values
 * or nothing varies.
 *
 * Welch BL (1947) Biometrika 34:28-35; Hedges LV (1981) J Educ Stat 6:107-128;
 * interval: Steiger JH, Fouladi RT (1997).
 *
 * @example unadjustedDifference([1, 2, 3], [3, 4, 5])?.difference // 2
 */
export function unadjustedDifference(
  first: readonly number[],
  second: readonly number[],
  level = 0.95,
): UnadjustedDifference | null {
  const n1 = first.length;
  const n2 = second.length;
  if (n1 < 2 || n2 < 2) return null;
  const [m1, v1] = moments(first);
  const [m2, v2] = moments(second);
  const a = v1 / n1;
  const b = v2 / n2;
  if (!(a + b > 1e-300)) return null;
  const difference = m2 - m1;
  const se = Math.sqrt(a + b);
  const share = a / (a + b);
  const df = 1 / (share ** 2 / (n1 - 1) + (1 - share) ** 2 / (n2 - 1));
  const t = studentTQuantile(1 - (1 - level) / 2, df);
  const pooledDf = n1 + n2 - 2;
  const pooled = Math.sqrt(((n1 - 1) * v1 + (n2 - 1) * v2) / pooledDf);
  const root = Math.sqrt((n1 * n2) / (n1 + n2));
  const j = hedgesCorrection(pooledDf);
  const d = difference / pooled;
  const centre = (tail: number) => centreFor(d * root, pooledDf, tail) / root;
  return {
    difference,
    se,
    df,
    p: studentTTwoSided(difference / se, df),
    interval: { lower: difference - t * se, upper: difference + t * se, level },
    hedgesG: j * d,
    // Beyond this the groups hardly overlap and the interval would say nothing more.
    hedgesInterval:
      Math.abs(d * root) > 200
        ? null
        : {
            lower: j * centre(1 - (1 - level) / 2),
            upper: j * centre((1 - level) / 2),
            level,
          },
  };
}

/** Gamma(df/2) / (sqrt(df/2) Gamma((df-1)/2)), about 1 - 3/(4 df - 1). */
export function hedgesCorrection(df: number): number {
  return Math.exp(logGamma(df / 2) - logGamma((df - 1) / 2) - Math.log(df / 2) / 2);
}

/** The noncentrality under which t would be exceeded from below with probability `tail`. */
function centreFor(t: number, df: number, tail: number): number {
  let low = t - 10 - Math.abs(t);
  let high = t + 10 + Math.abs(t);
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (noncentralTCumulative(t, df, middle) > tail) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function moments(xs: readonly number[]): [number, number] {
  const mean = xs.reduce((a, b) => a + b, 0) / xs.length;
  return [mean, xs.reduce((s, x) => s + (x - mean) ** 2, 0) / (xs.length - 1)];
}
