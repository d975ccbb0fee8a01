import type { Tail } from "./tail.js";

/**
 * P(W <= w), or P(W > w), of the Mann-Whitney count of pairs with the first
 * sample above the second, samples of m and n without ties. Exact: the counts are
 * the coefficients of the Gaussian binomial coefficient.
 *
 * @example rankSumCumulative(2, 4, 5) // 4/126 = 0.031746031746031744
 */
export function rankSumCumulative(w: number, m: number, n: number, tail: Tail = "lower"): number {
  const most = m * n;
  const chances = rankSumChances(m, n);
  return tailOf(chances, w, most, tail);
}

/**
 * P(V <= v), or P(V > v), of the Wilcoxon signed-rank sum of n differences
 * without ties or zeros. Exact.
 *
 * @example signedRankCumulative(3, 5) // 5/32 = 0.15625
 */
export function signedRankCumulative(v: number, n: number, tail: Tail = "lower"): number {
  return tailOf(signedRankChances(n), v, (n * (n + 1)) / 2, tail);
}

/** The smallest w with P(W <= w) >= p. */
export function rankSumQuantile(p: number, m: number, n: number): number {
  return smallest(rankSumChances(m, n), p);
}

/** The smallest v with P(V <= v) >= p. */
export function signedRankQuantile(p: number, n: number): number {
  return smallest(signedRankChances(n), p);
}

function rankSumChances(m: number, n: number): Float64Array {
  const small = Math.min(m, n);
  const large = Math.max(m, n);
  // Multiply by (1 - x^(large + i)) and divide by (1 - x^i), keeping shares, not counts.
  const length = m * n + 1;
  const c = new Float64Array(length);
  c[0] = 1;
  for (let i = 1; i <= small; i++) {
    const up = large + i;
    for (let k = length - 1; k >= up; k--) c[k]! -= c[k - up]!;
    for (let k = i; k < length; k++) c[k]! += c[k - i]!;
    for (let k = 0; k < length; k++) c[k]! *= i / (large + i);
  }
  return c;
}

function signedRankChances(n: number): Float64Array {
  const length = (n * (n + 1)) / 2 + 1;
  const c = new Float64Array(length);
  c[0] = 1;
  for (let i = 1; i <= n; i++) {
    for (let k = length - 1; k >= 0; k--) {
      c[k] = 0.5 * (c[k]! + (k >= i ? c[k - i]! : 0));
    }
  }
  return c;
}

function tailOf(chances: Float64Array, at: number, most: number, tail: Tail): number {
  // A rank sum computed from halves may sit a rounding error below its whole number.
  const k = Math.floor(at + 1e-7);
  if (k < 0) return tail === "lower" ? 0 : 1;
  if (k >= most) return tail === "lower" ? 1 : 0;
  // The law is symmetric: the upper tail above k is the lower tail below most - k.
  const last = tail === "lower" ? k : most - k - 1;
  if (last > most / 2) return 1 - tailOf(chances, at, most, tail === "lower" ? "upper" : "lower");
  let s = 0;
  for (let i = 0; i <= last; i++) s += chances[i]!;
  return Math.min(1, s);
}

function smallest(chances: Float64Array, p: number): number {
  let s = 0;
  for (let k = 0; k < chances.length; k++) {
    s += chances[k]!;
    if (s >= p * (1 - 64 * Number.EPSILON)) return k;
  }
  return chances.length - 1;
}
