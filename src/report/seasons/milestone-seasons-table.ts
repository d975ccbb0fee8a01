import type { SeasonMilestones } from "../../analysis/season-answers.js";
import type { MilestoneDescription } from "../../seasons/milestone-description.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";
import { milestoneCountColumns, milestoneCounts } from "./milestone-counts.js";

/** Milestones season by season: n, what became of the animals, quarter, half and three quarters. */
export function milestoneSeasonsTable(
  species: string,
  seasons: readonly SeasonMilestones[],
): Table {
  return table(
    "milestones-by-season",
    say("report-milestones-by-season", { species }),
    [
      { title: "Milestone" },
      { title: "Season" },
      ...milestoneCountColumns,
      { title: "A quarter", unit: "d", align: "number", digits: 3 },
      { title: "Half", unit: "d", align: "number", digits: 3 },
      { title: "Three quarters", unit: "d", align: "number", digits: 3 },
    ],
    byMilestone(seasons).map(({ season, milestone: m }) => [
      m.milestone,
      season,
      ...milestoneCounts(m),
      ...[0.25, 0.5, 0.75].map((share) => dayReached(m, share)),
    ]),
    say("report-milestones-none", { species }),
  );
}

/** All milestones of all seasons, the same milestone of each season together, earliest first. */
export function byMilestone(
  seasons: readonly SeasonMilestones[],
): { readonly season: string; readonly milestone: MilestoneDescription }[] {
  const all = seasons.flatMap(({ season, overview }) =>
    overview.value.milestones.map((milestone) => ({ season, milestone })),
  );
  const first = new Map<string, number>();
  for (const { milestone: m } of all) {
    const day = dayReached(m, 0.5) ?? Number.POSITIVE_INFINITY;
    first.set(m.milestone, Math.min(day, first.get(m.milestone) ?? Number.POSITIVE_INFINITY));
  }
  const place = (m: MilestoneDescription) => first.get(m.milestone)!;
  return all.sort((a, b) => {
    const [x, y] = [place(a.milestone), place(b.milestone)];
    if (x !== y) return x < y ? -1 : 1;
    if (a.milestone.milestone !== b.milestone.milestone)
      return a.milestone.milestone < b.milestone.milestone ? -1 : 1;
    return a.season < b.season ? -1 : 1;
  });
}

/**
 * The day by which a share of the animals had reached it, in the middle of the
 * stretch that the looks leave open; null where so many were never seen to.
 */
export function dayReached(milestone: MilestoneDescription, share: number): number | null {
  let reached = 0;
  for (const step of milestone.turnbull.steps) {
    reached += step.mass;
    if (reached >= share - 1e-9) return step.to === null ? null : (step.from + step.to) / 2;
  }
  return null;
}
