import { studentTQuantile } from "../distributions/student-t.js";
import { ratioSet } from "./ratio-set.js";

export interface FiellerInterval {
  readonly ratio: number | null;
  /** `null` on a side without end. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly level: number;
  /**
   * `"bounded"`, or, when the denominator is not clearly apart from 0, `"outside"`
   * (everything but the gap between `lower` and `upper`) or `"everything"`.
   */
  readonly shape: "bounded" | "outside" | "everything";
}

/**
 * Fieller's interval for the ratio of two jointly normal estimates a / b with
 * variances and covariance. Source: E. C. Fieller (1954).
 *
 * @example fiellerInterval({ a: 6, b: 3, varianceA: 0.04, varianceB: 0.01 }).lower // 1.8231920177811365
 */
export function fiellerInterval(
  parts: {
    readonly a: number;
    readonly b: number;
    readonly varianceA: number;
    readonly varianceB: number;
    readonly covariance?: number;
    /** Degrees of freedom of the variances; default infinite. */
    readonly df?: number;
  },
  level = 0.95,
): FiellerInterval {
  const { a, b, varianceA, varianceB, covariance = 0, df = Number.POSITIVE_INFINITY } = parts;
  const set = ratioSet(
    {
      numerator: a,
      denominator: b,
      numeratorVariance: varianceA,
      denominatorVariance: varianceB,
      covariance,
    },
    studentTQuantile((1 + level) / 2, df),
  );
  const ratio = b === 0 ? null : a / b;
  if (set.kind === "bounded")
    return { ratio, lower: set.lower, upper: set.upper, level, shape: "bounded" };
  if (set.kind === "whole line")
    return { ratio, lower: null, upper: null, level, shape: "everything" };
  return { ratio, lower: set.below, upper: set.above, level, shape: "outside" };
}
