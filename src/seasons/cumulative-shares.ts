import { competingRisks } from "../stats/survival/competing-risks.js";
import type { MilestoneTime } from "./milestone-times.js";

/** Share that has reached the milestone, died, or left without it, by each time. */
export interface CumulativeShare {
  readonly day: number;
  readonly atRisk: number;
  readonly seen: number;
  readonly died: number;
  readonly left: number;
  /** Standard errors of the three shares, in that order. */
  readonly se: readonly [number, number, number];
}

const ends = ["seen", "died", "left"] as const;

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
  const kind = rows.map((r) => (r.ended === "still in care" ? null : r.ended));
  const eventful = new Set(rows.filter((_, i) => kind[i] !== null).map((r) => r.day));
  const { steps } = competingRisks(
    rows.map((r) => r.day),
    kind,
    ends,
    rows.map((r) => r.entered),
  );
  return steps
    .filter((s) => eventful.has(s.time))
    .map((s) => ({
      day: s.time,
      atRisk: s.atRisk,
      seen: s.cumulative[0]!,
      died: s.cumulative[1]!,
      left: s.cumulative[2]!,
      se: [s.se[0]!, s.se[1]!, s.se[2]!],
    }));
}

/** The day on which a row ends: middle of the looks, or the last day on record. */
export function endDay(t: MilestoneTime): number {
  if (t.by !== null) return (t.after + t.by) / 2;
  return t.ended === "still in care" ? t.after : t.last;
}
