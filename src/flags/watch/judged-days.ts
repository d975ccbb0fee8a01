/**
 * Days for which what a weighing said stands while the animal is not weighed: longer than the
 * gaps of two weighings a week. Common practice, no source.
 */
export const judgementStandsD = 4;

/**
 * Days on which an animal was judged, or on which its last judgement stood, up to the end
 * of its record.
 *
 * @param days Numbers of the days on which it was weighed and judged, rising.
 * @example daysJudged([10, 11, 14, 30], 31) // 1 + 3 + 5 + 2
 */
export function daysJudged(days: ArrayLike<number>, end: number): number {
  let sum = 0;
  for (let i = 0; i < days.length; i++) {
    const next = i + 1 < days.length ? days[i + 1]! : end + 1;
    sum += Math.min(1 + judgementStandsD, next - days[i]!);
  }
  return sum;
}
