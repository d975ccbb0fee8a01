import { requireGroups } from "./one-way-anova.js";

/**
 * Two-sample Kolmogorov-Smirnov test, exact (paths of the two samples through
 * their joint order; with ties the paths may cross only between distinct values).
 *
 * @example kolmogorovSmirnovTest([1, 2], [3, 4]).distance // 1
 */
export function kolmogorovSmirnovTest(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
): { readonly distance: number; readonly p: number } {
  requireGroups("kolmogorovSmirnovTest", [x, y]);
  const m = x.length;
  const n = y.length;
  const all = [...Array.from(x, (v) => [v, 0] as const), ...Array.from(y, (v) => [v, 1] as const)];
  all.sort((a, b) => a[0] - b[0]);
  const ends = all.map((v, i) => i === all.length - 1 || all[i + 1]![0] !== v[0]);
  // Whole numbers, so that equal distances compare as equal.
  let i = 0;
  let j = 0;
  let most = 0;
  all.forEach(([, which], k) => {
    if (which === 0) i++;
    else j++;
    if (ends[k]) most = Math.max(most, Math.abs(i * n - j * m));
  });
  // Share of orders whose distance stays below the one seen, grown one value at a time.
  let chance = new Float64Array(m + 1);
  chance[0] = 1;
  for (let k = 1; k <= m + n; k++) {
    const next = new Float64Array(m + 1);
    for (let a = Math.max(0, k - n); a <= Math.min(m, k); a++) {
      const b = k - a;
      if (ends[k - 1] && Math.abs(a * n - b * m) >= most) continue;
      const left = m + n - k + 1;
      const fromX = a > 0 ? (chance[a - 1]! * (m - a + 1)) / left : 0;
      const fromY = b > 0 ? (chance[a]! * (n - b + 1)) / left : 0;
      next[a] = fromX + fromY;
    }
    chance = next;
  }
  return { distance: most / (m * n), p: most === 0 ? 1 : Math.min(1, 1 - chance[m]!) };
}
