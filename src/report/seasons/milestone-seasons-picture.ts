import type { SeasonMilestones } from "../../analysis/season-answers.js";
import type { Chart } from "../../charts/chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import { say } from "../section/say.js";
import { byMilestone, dayReached } from "./milestone-seasons-table.js";

/** When each season reached each milestone: half of its animals, and the middle half of them. */
export function milestoneSeasonsPicture(
  species: string,
  seasons: readonly SeasonMilestones[],
): Chart {
  const all = byMilestone(seasons);
  const byAge = all.every(({ milestone }) => milestone.scale === "age");
  return intervalChart({
    title: `Milestones by season, ${species}`,
    valueTitle: byAge ? "Age (days)" : "Days since admission",
    of: "milestone of a season",
    ofMany: "milestones of a season",
    intervalIs: say("report-milestones-bars"),
    order: "given",
    rows: all.map(({ season, milestone: m }) => ({
      name: `${m.milestone}, ${season}`,
      value: dayReached(m, 0.5),
      lower: dayReached(m, 0.25),
      upper: dayReached(m, 0.75),
      n: m.n,
    })),
  });
}
