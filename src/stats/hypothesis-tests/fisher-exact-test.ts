import type { Interval } from "../../core/measured.js";
import { findRoot } from "../numeric/find-root.js";
import { logGamma } from "../special-functions/gamma-function.js";

export interface FisherExactTest {
  readonly p: number;
  /** Conditional maximum-likelihood odds ratio; `null` means infinite. */
  readonly oddsRatio: number | null;
  readonly interval: Interval;
}

/**
 * Fisher's exact test of the 2 x 2 table (a b; c d) with fixed margins: two-sided
 * p, odds ratio by conditional maximum likelihood and its exact interval.
 *
 * @example fisherExactTest(8, 1, 2, 9).p // 0.005477494641581329
 */
export function fisherExactTest(
  a: number,
  b: number,
  c: number,
  d: number,
  level = 0.95,
): FisherExactTest {
  const row = a + b;
  const column = a + c;
  const n = a + b + c + d;
  const low = Math.max(0, row + column - n);
  const high = Math.min(row, column);
  const logs = Array.from({ length: high - low + 1 }, (_, i) => {
    const k = low + i;
    return logChoose(column, k) + logChoose(n - column, row - k);
  });
  /** Chances of each first cell when the odds ratio is exp(t). */
  const chances = (t: number) => {
    const shifted = logs.map((l, i) => l + t * (low + i));
    const top = Math.max(...shifted);
    const raw = shifted.map((l) => Math.exp(l - top));
    const sum = raw.reduce((s, v) => s + v, 0);
    return raw.map((v) => v / sum);
  };
  const even = chances(0);
  const seen = even[a - low]!;
  const p = even.reduce((s, v) => (v <= seen * (1 + 1e-7) ? s + v : s), 0);
  const mean = (t: number) => chances(t).reduce((s, v, i) => s + v * (low + i), 0);
  const atMost = (t: number) =>
    chances(t)
      .slice(0, a - low + 1)
      .reduce((s, v) => s + v, 0);
  const atLeast = (t: number) =>
    chances(t)
      .slice(a - low)
      .reduce((s, v) => s + v, 0);
  const share = (1 - level) / 2;
  const solve = (f: (t: number) => number) =>
    Math.exp(findRoot(f, -60, 60, { tolerance: 1e-14 }).x);
  const oddsRatio = a === low ? 0 : a === high ? null : solve((t) => mean(t) - a);
  return {
    p: Math.min(1, p),
    oddsRatio: low === high ? null : oddsRatio,
    interval: {
      lower: a === low ? 0 : solve((t) => atLeast(t) - share),
      upper: a === high ? null : solve((t) => atMost(t) - share),
      level,
    },
  };
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}
