import type { Measured } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import type { MilestoneOverview } from "../../seasons/describe-milestones.js";
import type { MilestoneDescription } from "../../seasons/milestone-description.js";

import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";

/**
 * Whether groups reach milestones at different times, the mean time without
 * each, what became of all, and what arrival mass and sex have to do with it.
 */
export function milestoneComparisonTable(
  overview: Result<"describe-milestones", MilestoneOverview>,
): Table {
  const { milestones, species, adjustedP } = overview.value;
  return table(
    "milestone-comparison",
    say("milestone-table-compared", { species }),
    [
      { title: "Milestone" },
      { title: "Mean days without it", unit: "d", align: "number", digits: 3 },
      { title: "Followed up to day", align: "number", digits: 3 },
      { title: "Seen", unit: "%", align: "number", digits: 3 },
      { title: "Died", unit: "%", align: "number", digits: 3 },
      { title: "Left", unit: "%", align: "number", digits: 3 },
      { title: "p, log-rank", align: "number", digits: 2, smallest: 0.001 },
      { title: "p, between looks", align: "number", digits: 2, smallest: 0.001 },
      { title: "p, log-rank, adjusted", align: "number", digits: 2, smallest: 0.001 },
      { title: "Hazard ratio per kg at arrival" },
      { title: "Hazard ratio, male against female" },
    ],
    milestones.map((m, i): Cell[] => [
      m.milestone,
      mean(m),
      m.restrictedMean.until,
      ...shares(m),
      m.groups?.p ?? null,
      m.groups?.betweenLooks.p ?? null,
      adjustedP[i] ?? null,
      ratio(m, "arrival mass"),
      ratio(m, "sex"),
    ]),
    say("milestone-table-none"),
  );
}

/** Of each milestone and group: how many were seen to reach it, and how many if groups were alike. */
export function milestoneGroupsTable(
  overview: Result<"describe-milestones", MilestoneOverview>,
): Table {
  const { milestones, species } = overview.value;
  return table(
    "milestone-groups",
    say("milestone-table-groups", { species }),
    [
      { title: "Milestone" },
      { title: "Group" },
      { title: "Seen", align: "number" },
      { title: "Expected if groups were alike", align: "number", digits: 3 },
    ],
    milestones.flatMap(({ milestone, groups }) =>
      (groups?.names ?? []).map((name, i): Cell[] => [
        milestone,
        name,
        groups!.observed[i]!,
        groups!.expected[i]!,
      ]),
    ),
    say("milestone-table-none"),
  );
}

function mean({ restrictedMean: r }: MilestoneDescription): Measured | null {
  return r.value === null || r.until === null ? null : { ...r, unit: "d" };
}

function shares({ shares }: MilestoneDescription): readonly (number | null)[] {
  const last = shares.at(-1);
  if (last === undefined) return [null, null, null];
  return [last.seen, last.died, last.left].map((x) => Math.round(100 * x));
}

function ratio({ model, seen }: MilestoneDescription, name: "arrival mass" | "sex"): Cell {
  if (model === null) return seen < 10 ? "fewer than 10 seen" : "not fitted";
  const term = model.terms.find((t) => t.name === name);
  if (model.status !== "converged") return "did not converge";
  if (term === undefined) return "not in the model";
  return { value: term.hazardRatio, unit: "", interval: term.interval };
}
