import type { Interval } from "../core/measured.js";
import type { TurnbullFit } from "../stats/survival/turnbull.js";
import { turnbullInterval } from "../stats/survival/turnbull-interval.js";
import { turnbullSurvival } from "../stats/survival/turnbull-survival.js";
import type { MilestoneTime } from "./milestone-times.js";

/**
 * The share that had reached a milestone on the days strictly between two days;
 * bounds where the looks leave it open. The last of a curve has no length: it
 * holds what is known at the end.
 */
export interface ReachedShare {
  readonly from: number;
  readonly to: number;
  readonly least: number;
  readonly most: number;
  /** Of the share, by drawing animals anew; null where no samples were asked for. */
  readonly interval: Interval | null;
}

export interface ReachedShareOptions {
  readonly level: number;
  readonly runs: number;
  readonly seed: number;
}

/**
 * The curve of a milestone from the first entry to the last look, cut at every
 * day on which it moves, with a bootstrap interval of each piece by itself.
 * Death and leaving censor it: it tells how it would be if nobody did,
 * `cumulativeShares` how it was.
 */
export function reachedShares(
  fit: TurnbullFit,
  times: readonly MilestoneTime[],
  { level, runs, seed }: ReachedShareOptions,
): ReachedShare[] {
  const begin = Math.min(...times.map((t) => t.entered));
  const end = Math.max(...times.map((t) => t.by ?? t.after));
  const moves = fit.steps.flatMap((s) => [s.from, s.to ?? end]).filter((d) => d > begin && d < end);
  const cuts = [...new Set([begin, ...moves, end])].sort((a, b) => a - b);
  // On the cuts themselves a share may jump, so each piece is judged at its middle.
  const at = [...cuts.slice(1).map((to, i) => (cuts[i]! + to) / 2), end];
  const intervals =
    runs === 0
      ? null
      : turnbullInterval(
          times.map(({ after, by, entered }) => ({ after, by, entered })),
          at,
          { level, runs, seed },
        );
  return cuts.map((from, i) => {
    const later = turnbullSurvival(fit, at[i]!);
    const found = intervals?.[i];
    return {
      from,
      to: cuts[i + 1] ?? end,
      least: 1 - later.upper,
      most: 1 - later.lower,
      interval: found === undefined ? null : { lower: found.lower, upper: found.upper, level },
    };
  });
}

/** The interval in which the share that has not reached it falls to one half. */
export function medianReached(fit: TurnbullFit): { from: number; to: number | null } | null {
  let reached = 0;
  for (const step of fit.steps) {
    reached += step.mass;
    if (reached >= 0.5 - 1e-9) return step.to === null ? null : { from: step.from, to: step.to };
  }
  return null;
}

/**
 * Where the day by which half had reached it may lie: from the first day on
 * which the interval of the share takes in one half to the first on which it
 * lies above. Null without intervals or where half is never taken in.
 */
export function medianInterval(reached: readonly ReachedShare[]): Interval | null {
  const from = (read: (i: Interval) => number | null) =>
    reached.find((r) => r.interval !== null && (read(r.interval) ?? 0) >= 0.5)?.from ?? null;
  const lower = from((i) => i.upper);
  const level = reached[0]?.interval?.level;
  if (lower === null || level === undefined) return null;
  return { lower, upper: from((i) => i.lower), level };
}
