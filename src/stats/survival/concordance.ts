import { requireNumbers } from "../../core/require-numbers.js";
import { requireSurvivalData, type SurvivalData } from "./survival-data.js";

export interface Concordance {
  /** Share of comparable pairs in which the higher risk has the event first; `null` without pairs. */
  readonly c: number | null;
  readonly se: number | null;
}

/**
 * Harrell's concordance of a risk score with times to an event; score ties count
 * half. Standard error by the infinitesimal jackknife.
 *
 * @example concordance({ time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }, [6, 5, 4, 3, 2, 1]).c // 1
 */
export function concordance(
  data: SurvivalData,
  risk: ArrayLike<number>,
  strata?: readonly number[],
): Concordance {
  requireSurvivalData("concordance", data);
  requireNumbers("concordance", "the risk scores", risk, data.time.length);
  const n = data.time.length;
  const gain = new Float64Array(n);
  const pairs = new Float64Array(n);
  let total = 0;
  let won = 0;
  for (let i = 0; i < n; i++) {
    if (!data.event[i]) continue;
    for (let j = 0; j < n; j++) {
      if (i === j || (strata !== undefined && strata[i] !== strata[j])) continue;
      const later =
        data.time[j]! > data.time[i]! || (data.time[j] === data.time[i] && !data.event[j]);
      if (!later) continue;
      if (data.entry !== undefined && data.entry[j]! >= data.time[i]!) continue;
      const score = risk[i]! > risk[j]! ? 1 : risk[i]! < risk[j]! ? 0 : 0.5;
      total++;
      won += score;
      for (const k of [i, j]) {
        gain[k]! += score;
        pairs[k]! += 1;
      }
    }
  }
  if (total === 0) return { c: null, se: null };
  const c = won / total;
  let variance = 0;
  for (let i = 0; i < n; i++) variance += ((gain[i]! - c * pairs[i]!) / total) ** 2;
  return { c, se: Math.sqrt(variance) };
}
