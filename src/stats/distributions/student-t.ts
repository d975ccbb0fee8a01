import { logBeta } from "../special-functions/gamma-function.js";
import { betaShareOf } from "../special-functions/incomplete-beta.js";
import { betaLogOddsQuantile } from "./beta.js";
import { normalCumulative, normalDensity, normalQuantile } from "./normal.js";
import { requirePositive, requireProbability, type Tail } from "./tail.js";

/** Density of Student's t with `df` degrees of freedom. @example studentTDensity(0, 1) // 0.3183098861837907 */
export function studentTDensity(t: number, df: number): number {
  requirePositive("studentTDensity", "df", df);
  return studentTDensityOf(df)(t);
}

/** The density for many values: what `df` alone says is worked out once. */
export function studentTDensityOf(df: number): (t: number) => number {
  if (df === Number.POSITIVE_INFINITY) return normalDensity;
  const rootDf = Math.sqrt(df);
  const logBetaHere = logBeta(0.5, df / 2);
  return (t) => {
    const root = t / rootDf;
    const log1 = Math.abs(root) > 1e100 ? 2 * Math.log(Math.abs(root)) : Math.log1p(root * root);
    return Math.exp(-((df + 1) / 2) * log1 - logBetaHere) / rootDf;
  };
}

/**
 * P(T <= t), or P(T > t), of Student's t; df may be `Infinity` (normal).
 *
 * @example studentTCumulative(2.5705818356363146, 5) // 0.975
 */
export function studentTCumulative(t: number, df: number, tail: Tail = "lower"): number {
  requirePositive("studentTCumulative", "df", df);
  return studentTCumulativeOf(df)(t, tail);
}

/** The same for many values: what `df` alone says is worked out once. */
export function studentTCumulativeOf(df: number): (t: number, tail: Tail) => number {
  if (df === Number.POSITIVE_INFINITY) return normalCumulative;
  const rootDf = Math.sqrt(df);
  const share = betaShareOf(df / 2, 0.5);
  return (t, tail) => {
    if (Number.isNaN(t)) return t;
    const towards = tail === "lower" ? -t : t;
    const size = Math.abs(t) / rootDf;
    if (size > 1e100) {
      const logTail = -df * Math.log(size) - Math.log(df / 2) - logBeta(df / 2, 0.5);
      const small = size === Number.POSITIVE_INFINITY ? 0 : Math.exp(logTail) / 2;
      return towards > 0 ? small : 1 - small;
    }
    const odds = size * size;
    const [x, y] = [1 / (1 + odds), odds / (1 + odds)];
    return towards >= 0 ? share(x, y, "lower") / 2 : 0.5 + share(x, y, "upper") / 2;
  };
}

/**
 * The value with a share `p` below it (above it).
 *
 * @example studentTQuantile(0.975, 5) // 2.5705818356363146
 */
export function studentTQuantile(p: number, df: number, tail: Tail = "lower"): number {
  requirePositive("studentTQuantile", "df", df);
  requireProbability("studentTQuantile", p);
  if (Number.isNaN(p)) return p;
  if (df === Number.POSITIVE_INFINITY) return normalQuantile(p, tail);
  const sign = p > 0.5 === (tail === "lower") ? 1 : -1;
  const small = p > 0.5 ? 1 - p : p;
  if (small === 0) return sign * Number.POSITIVE_INFINITY;
  if (small === 0.5) return 0;
  // t^2 follows F(1, df). Far out by the small tail, near 0 by the share between -t and t.
  const logOdds =
    small < 0.25
      ? betaLogOddsQuantile(2 * small, 0.5, df / 2, "upper")
      : betaLogOddsQuantile(2 * Math.abs(p - 0.5), 0.5, df / 2, "lower");
  return sign * Math.sqrt(df) * Math.exp(logOdds / 2);
}

/** The two-sided p-value P(|T| >= |t|). @example studentTTwoSided(2.5705818356363146, 5) // 0.05 */
export function studentTTwoSided(t: number, df: number): number {
  return Math.min(1, 2 * studentTCumulative(Math.abs(t), df, "upper"));
}
