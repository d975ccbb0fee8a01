import { invertGram, triangularise } from "../stats/least-squares/kernels.js";
import type { GrowthCurve } from "./growth-curve.js";
import { tCut } from "./information-criteria.js";

/**
 * How many more weighings, at the spacing so far, would identify the final mass
 * if the curve fitted now were true: the smallest number for which the expected
 * 95 % interval of the final mass keeps clear of zero. `null` beyond 500. A rough
 * guide, since the curve fitted now is itself uncertain.
 *
 * @example weighingsNeeded(logistic, [6000, 40, 9], [], [0, 5, 10, 15, 20], 40, 0) // 150
 */
export function weighingsNeeded(
  curve: GrowthCurve,
  theta: readonly number[],
  constants: readonly number[],
  t: ArrayLike<number>,
  residualSd: number,
  asymptote: number,
): number | null {
  const n = t.length;
  const p = theta.length;
  const spacing = (t[n - 1]! - t[0]!) / Math.max(1, n - 1);
  if (!(spacing > 0)) return null;
  const row = new Float64Array(p);
  const enough = (more: number): boolean => {
    const rows = n + more;
    const a = new Float64Array(rows * p);
    for (let i = 0; i < rows; i++) {
      const age = i < n ? t[i]! : t[n - 1]! + spacing * (i - n + 1);
      if (!Number.isFinite(curve.gradient(age, theta, row, 0, constants))) return false;
      for (let j = 0; j < p; j++) a[j * rows + i] = row[j]!;
    }
    triangularise(a, rows, p, new Float64Array(rows));
    const inverse = new Float64Array(p * p);
    if (!invertGram(a, rows, p, inverse, new Float64Array(p * p))) return false;
    const se = residualSd * Math.sqrt(inverse[asymptote * p + asymptote]!);
    return tCut(rows - p) * se < Math.abs(theta[asymptote]!);
  };
  let high = 1;
  while (!enough(high)) {
    high *= 2;
    if (high > 500) return null;
  }
  let low = high >> 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
