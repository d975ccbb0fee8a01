/** A numerator and a denominator with their sampling variances and covariance. */
export interface UncertainRatio {
  readonly numerator: number;
  readonly denominator: number;
  readonly numeratorVariance: number;
  readonly denominatorVariance: number;
  readonly covariance?: number;
}

/**
 * Fieller's confidence set for a ratio of two normal estimates. Where the
 * denominator may be zero the set has no upper or lower end, or none at all.
 */
export type RatioSet =
  | { readonly kind: "bounded"; readonly lower: number; readonly upper: number }
  /** Everything outside (lower, upper): the denominator may be zero. */
  | { readonly kind: "two rays"; readonly below: number; readonly above: number }
  | { readonly kind: "whole line" };

/**
 * Fieller 1954 (J R Stat Soc B 16:175): all r for which
 * (a - r b)^2 <= t^2 (Vaa - 2 r Vab + r^2 Vbb).
 *
 * @param t the quantile of Student's t (or the normal) of the wanted level.
 * @example ratioSet({ numerator: 10, denominator: 5, numeratorVariance: 1, denominatorVariance: 0.25 }, 2) // bounded, 1.5 to 2.6667
 */
export function ratioSet(ratio: UncertainRatio, t: number): RatioSet {
  const { numerator: a, denominator: b } = ratio;
  const t2 = t * t;
  const cov = ratio.covariance ?? 0;
  // A r^2 - 2 B r + C <= 0
  const A = b * b - t2 * ratio.denominatorVariance;
  const B = a * b - t2 * cov;
  const C = a * a - t2 * ratio.numeratorVariance;
  const root = B * B - A * C;
  if (A > 0) {
    const s = Math.sqrt(Math.max(0, root));
    return { kind: "bounded", lower: (B - s) / A, upper: (B + s) / A };
  }
  if (A < 0 && root > 0) {
    const s = Math.sqrt(root);
    return { kind: "two rays", below: (B + s) / A, above: (B - s) / A };
  }
  return { kind: "whole line" };
}
