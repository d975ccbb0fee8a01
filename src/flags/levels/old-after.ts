import { median } from "../../stats/descriptive/median.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";

/**
 * Hours after which the last reading of a kind is old: so many of its own usual
 * intervals (the median of the last 21 days, at least three of them), within limits.
 * Where no rhythm is known, the least.
 *
 * @param at the instant; later readings are not looked at.
 * @example oldAfterH(everyTwoDays, now, { leastH: 36, mostH: 192, intervals: 1.25 }) // 60
 */
export function oldAfterH(
  taken: readonly number[],
  at: number,
  limits: { readonly leastH: number; readonly mostH: number; readonly intervals: number },
): number {
  const recent = taken.filter((t) => t <= at && t > at - 21 * dayMs);
  // Readings within two hours are one occasion.
  const occasions = recent.filter((t, i) => i === 0 || t - recent[i - 1]! > 2 * hourMs);
  const gaps = occasions.slice(1).map((t, i) => (t - occasions[i]!) / hourMs);
  const usual = gaps.length < 3 ? 0 : median(gaps)!;
  return Math.max(limits.leastH, Math.min(limits.mostH, limits.intervals * usual));
}
