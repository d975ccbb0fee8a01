import { studentTQuantile } from "../distributions/student-t.js";

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
  const t2 = studentTQuantile((1 + level) / 2, df) ** 2;
  const ratio = b === 0 ? null : a / b;
  // (a - r b)^2 <= t^2 (va - 2 r c + r^2 vb): a quadratic in r.
  const p = b * b - t2 * varianceB;
  const q = a * b - t2 * covariance;
  const s = a * a - t2 * varianceA;
  const root = q * q - p * s;
  if (p > 0) {
    const half = Math.sqrt(Math.max(0, root));
    return { ratio, lower: (q - half) / p, upper: (q + half) / p, level, shape: "bounded" };
  }
  if (root <= 0 || p === 0) return { ratio, lower: null, upper: null, level, shape: "everything" };
  const half = Math.sqrt(root);
  const ends = [(q - half) / p, (q + half) / p].sort((x, y) => x - y);
  return { ratio, lower: ends[0]!, upper: ends[1]!, level, shape: "outside" };
}
