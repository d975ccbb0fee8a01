/** How far out a residual (in robust standard deviations) still counts. */
export interface InfluenceFunction {
  readonly name: "huber" | "bisquare" | "hampel";
  /** psi(u) / u: 1 near 0, falling outward. */
  readonly weight: (u: number) => number;
  /** psi'(u). */
  readonly slope: (u: number) => number;
}

/**
 * Huber's: linear, then constant. Convex, so the answer is unique.
 *
 * @example huberInfluence().weight(2.69) // 0.5
 */
export function huberInfluence(k = 1.345): InfluenceFunction {
  return {
    name: "huber",
    weight: (u) => Math.min(1, k / Math.abs(u)),
    slope: (u) => (Math.abs(u) <= k ? 1 : 0),
  };
}

/**
 * Tukey's bisquare: far points count for nothing; the answer depends on the start.
 *
 * @example bisquareInfluence().weight(5) // 0
 */
export function bisquareInfluence(c = 4.685): InfluenceFunction {
  return {
    name: "bisquare",
    weight: (u) => (1 - Math.min(1, Math.abs(u / c)) ** 2) ** 2,
    slope: (u) => {
      const t = (u / c) ** 2;
      return t < 1 ? (1 - t) * (1 - 5 * t) : 0;
    },
  };
}

/**
 * Hampel's three-part function.
 *
 * @example hampelInfluence().weight(4) // 0.5
 */
export function hampelInfluence(a = 2, b = 4, c = 8): InfluenceFunction {
  return {
    name: "hampel",
    weight: (u) => {
      const v = Math.abs(u);
      if (v <= a) return 1;
      if (v <= b) return a / v;
      return v < c ? (a * (c - v)) / (c - b) / v : 0;
    },
    slope: (u) => {
      const v = Math.abs(u);
      if (v <= a) return 1;
      if (v <= b) return 0;
      return v <= c ? a / (b - c) : 0;
    },
  };
}
