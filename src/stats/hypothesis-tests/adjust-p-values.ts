import { requireList } from "../../core/require-numbers.js";

/** Bonferroni, Holm, Hochberg and Hommel hold the family-wise error; the other two the false discovery rate. */
export type Adjustment =
  | "none"
  | "bonferroni"
  | "holm"
  | "hochberg"
  | "hommel"
  | "benjamini-hochberg"
  | "benjamini-yekutieli";

/**
 * Adjusts p-values for having looked at several at once. A `null` stays `null`
 * and does not count. Sources: Holm (1979), Hochberg (1988), Hommel (1988),
 * Benjamini and Hochberg (1995), Benjamini and Yekutieli (2001).
 *
 * @example adjustPValues([0.01, 0.04, 0.03], "holm") // [0.03, 0.06, 0.06]
 */
export function adjustPValues(
  p: readonly (number | null)[],
  method: Adjustment,
): (number | null)[] {
  requireList("adjustPValues", "the p values", p);
  const at = p.flatMap((v, i) => (v === null || Number.isNaN(v) ? [] : [i]));
  const values = at.map((i) => p[i]!);
  const adjusted = adjust(values, method);
  const out: (number | null)[] = p.map(() => null);
  at.forEach((i, k) => {
    out[i] = adjusted[k]!;
  });
  return out;
}

function adjust(p: readonly number[], method: Adjustment): number[] {
  const m = p.length;
  const up = p.map((_, i) => i).sort((i, j) => p[i]! - p[j]!);
  const down = up.slice().reverse();
  const harmonic = p.reduce((s, _, i) => s + 1 / (i + 1), 0);
  switch (method) {
    case "none":
      return p.slice();
    case "bonferroni":
      return p.map((v) => Math.min(1, m * v));
    case "holm":
      return running(up, Math.max, (i, k) => (m - k) * p[i]!);
    case "hochberg":
      return running(down, Math.min, (i, k) => (k + 1) * p[i]!);
    case "benjamini-hochberg":
      return running(down, Math.min, (i, k) => (m / (m - k)) * p[i]!);
    case "benjamini-yekutieli":
      return running(down, Math.min, (i, k) => ((harmonic * m) / (m - k)) * p[i]!);
    case "hommel":
      return hommel(p, up);
  }
}

/** Walks the p-values in the given order and keeps the largest (smallest) so far. */
function running(
  order: readonly number[],
  choose: (a: number, b: number) => number,
  value: (i: number, k: number) => number,
): number[] {
  const out: number[] = new Array(order.length);
  let kept: number | undefined;
  order.forEach((i, k) => {
    const v = value(i, k);
    kept = kept === undefined ? v : choose(kept, v);
    out[i] = Math.min(1, kept);
  });
  return out;
}

/**
 * Hommel's value of p(j) is the largest, over sizes s of sets that hold it, of the
 * Simes p-value of the worst such set: the s - 1 largest others and p(j) itself.
 */
function hommel(p: readonly number[], up: readonly number[]): number[] {
  const m = p.length;
  const sorted = up.map((i) => p[i]!);
  const out: number[] = new Array(m);
  up.forEach((original, j) => {
    let worst = sorted[j]!;
    for (let s = 2; s <= m; s++) {
      // The set: p(j) with the s - 1 largest of the others, ascending.
      const rest = sorted.filter((_, i) => i !== j).slice(m - s);
      const set = [...rest, sorted[j]!].sort((a, b) => a - b);
      const simes = Math.min(...set.map((v, i) => (s * v) / (i + 1)));
      worst = Math.max(worst, simes);
    }
    out[original] = Math.min(1, worst);
  });
  return out;
}
