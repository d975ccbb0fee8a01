/**
 * The sum of numbers with the rounding error of every addition carried along.
 * Source: A. Neumaier, Rundungsfehleranalyse einiger Verfahren zur Summation
 * endlicher Summen (1974).
 *
 * @example compensatedSum([1e16, 1, -1e16]) // 1
 */
export function compensatedSum(values: Iterable<number>): number {
  let s = 0;
  let lost = 0;
  for (const v of values) {
    const t = s + v;
    lost += Math.abs(s) >= Math.abs(v) ? s - t + v : v - t + s;
    s = t;
  }
  // Past overflow the carried error is NaN; the sum itself is then the answer.
  return Number.isFinite(lost) ? s + lost : s;
}
