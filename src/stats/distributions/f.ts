import { incompleteBeta } from "../special-functions/incomplete-beta.js";
import { betaTerm } from "../special-functions/saddle-point-terms.js";
import { betaLogOddsQuantile } from "./beta.js";
import { chiSquaredCumulative, chiSquaredQuantile } from "./chi-squared.js";
import { requirePositive, type Tail } from "./tail.js";

/**
 * Density of the F law with df1 and df2 degrees of freedom.
 *
 * @example fDensity(1, 2, 2) // 0.25
 */
export function fDensity(x: number, df1: number, df2: number): number {
  requirePositive("fDensity", "df1", df1);
  requirePositive("fDensity", "df2", df2);
  if (x < 0) return 0;
  if (x === 0) return df1 < 2 ? Number.POSITIVE_INFINITY : df1 === 2 ? 1 : 0;
  const n = df1 * x + df2;
  return betaTerm(df1 / 2, df2 / 2, (df1 * x) / n, df2 / n) / x;
}

/**
 * P(X <= x), or P(X > x), of the F law; df2 may be `Infinity`.
 *
 * @example fCumulative(4, 2, 12, "upper") // 0.0466...
 */
export function fCumulative(x: number, df1: number, df2: number, tail: Tail = "lower"): number {
  requirePositive("fCumulative", "df1", df1);
  requirePositive("fCumulative", "df2", df2);
  if (df2 === Number.POSITIVE_INFINITY) return chiSquaredCumulative(df1 * x, df1, tail);
  if (x <= 0) return tail === "lower" ? 0 : 1;
  const odds = (df1 / df2) * x;
  if (odds === Number.POSITIVE_INFINITY) return tail === "lower" ? 1 : 0;
  return incompleteBeta(df1 / 2, df2 / 2, odds / (1 + odds), 1 / (1 + odds))[tail];
}

/** The value with a share `p` below it (above it). @example fQuantile(0.95, 2, 12) // 3.885293834652391 */
export function fQuantile(p: number, df1: number, df2: number, tail: Tail = "lower"): number {
  requirePositive("fQuantile", "df1", df1);
  requirePositive("fQuantile", "df2", df2);
  if (df2 === Number.POSITIVE_INFINITY) return chiSquaredQuantile(p, df1, tail) / df1;
  return (df2 / df1) * Math.exp(betaLogOddsQuantile(p, df1 / 2, df2 / 2, tail));
}
