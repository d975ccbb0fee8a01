import type { StudySeries } from "../series/animal-series.js";
import { imputedLogRank } from "../stats/survival/imputed-log-rank.js";
import { intervalLogRank } from "../stats/survival/interval-log-rank.js";
import { logRankTest } from "../stats/survival/log-rank-test.js";
import type { MilestoneTime } from "./milestone-times.js";

/** Whether groups reach a milestone at different times. */
export interface MilestoneGroups {
  readonly by: "season" | "sex";
  readonly names: readonly string[];
  readonly observed: readonly number[];
  readonly expected: readonly number[];
  readonly chiSquared: number | null;
  /** Log-rank test, each milestone at the middle of its looks, late arrivals entering late. */
  readonly p: number | null;
  /** The same question from the looks themselves. */
  readonly betweenLooks: {
    /** Ages are left-truncated at admission, which only the drawn times can take up. */
    readonly method: "scores (Sun)" | "drawn times (Huang)";
    readonly p: number | null;
  };
}

/** Compares groups of animals; null where there are not two, or nobody reached it. */
export function milestoneGroups(
  study: StudySeries,
  rows: readonly MilestoneTime[],
  data: {
    readonly time: readonly number[];
    readonly event: readonly boolean[];
    readonly entry: readonly number[];
  },
  options: {
    readonly by: "season" | "sex";
    readonly scale: "age" | "since admission";
    readonly seed: number;
  },
): MilestoneGroups | null {
  const { by, scale, seed } = options;
  const sex = new Map(study.animals.map((a) => [a.animal.animalId, a.animal.sex]));
  const group = rows.map(
    (t) => (by === "season" ? t.season : sex.get(t.animalId)) ?? "not written",
  );
  if (new Set(group).size < 2 || !data.event.includes(true)) return null;
  const test = logRankTest(data, group);
  const looks = rows.map((t) => ({ after: t.after, by: t.by }));
  return {
    by,
    names: test.groups,
    observed: test.observed,
    expected: test.expected,
    chiSquared: test.chiSquared,
    p: test.p,
    betweenLooks:
      scale === "age"
        ? {
            method: "drawn times (Huang)",
            p: imputedLogRank(
              looks.map((l, i) => ({ ...l, entered: rows[i]!.entered })),
              group,
              { seed },
            ).p,
          }
        : { method: "scores (Sun)", p: intervalLogRank(looks, group).p },
  };
}
