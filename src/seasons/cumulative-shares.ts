import type { MilestoneTime } from "./milestone-times.js";

/** Share that has reached the milestone, died, or left without it, by each time. */
export interface CumulativeShare {
  readonly day: number;
  readonly atRisk: number;
  readonly seen: number;
  readonly died: number;
  readonly left: number;
}

/**
 * Aalen-Johansen shares with delayed entry: death and leaving end the chance of
 * being seen to reach the milestone, so they are events of their own and not
 * censoring. A milestone known to lie between two looks stands at the middle of
 * them; an animal still in care is censored at its last look.
 *
 * Aalen OO, Johansen S (1978) Scand J Stat 5:141-150.
 *
 * @example cumulativeShares(times).at(-1)?.seen // 0.86
 */
export function cumulativeShares(times: readonly MilestoneTime[]): CumulativeShare[] {
  const rows = times
    .map((t) => ({ entered: t.entered, day: endDay(t), ended: t.ended }))
    .filter((r) => r.day > r.entered);
  const days = [...new Set(rows.filter((r) => r.ended !== "still in care").map((r) => r.day))].sort(
    (a, b) => a - b,
  );
  let free = 1;
  const total = { seen: 0, died: 0, left: 0 };
  return days.map((day) => {
    const atRisk = rows.filter((r) => r.entered < day && r.day >= day).length;
    const at = rows.filter((r) => r.day === day);
    const before = free;
    for (const kind of ["seen", "died", "left"] as const) {
      const part = at.filter((r) => r.ended === kind).length / atRisk;
      total[kind] += before * part;
      free -= before * part;
    }
    return { day, atRisk, ...total };
  });
}

/** The day on which a row ends: middle of the looks, or the last day on record. */
export function endDay(t: MilestoneTime): number {
  if (t.by !== null) return (t.after + t.by) / 2;
  return t.ended === "still in care" ? t.after : t.last;
}
