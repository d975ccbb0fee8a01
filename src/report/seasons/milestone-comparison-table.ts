import type { Result } from "../../core/result.js";
import type { MilestoneOverview } from "../../seasons/describe-milestones.js";
import type { MilestoneDescription } from "../../seasons/milestone-description.js";
import { formatMeasured } from "../../units/format-measured.js";
import { formatNumber } from "../../units/format-number.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";

/**
 * Whether groups reach milestones at different times, the mean time without
 * each, what became of all, and what arrival mass and sex have to do with it.
 */
export function milestoneComparisonTable(
  overview: Result<"describe-milestones", MilestoneOverview>,
): Table {
  const { milestones, species } = overview.value;
  return table(
    "milestone-comparison",
    say("milestone-table-compared", { species }),
    [
      { title: "Milestone" },
      { title: "Mean days without it" },
      { title: "Seen, died, left", unit: "%" },
      { title: "Seen and expected, by group" },
      { title: "p, log-rank", align: "number", digits: 2 },
      { title: "p, between looks", align: "number", digits: 2 },
      { title: "Hazard ratio per kg at arrival" },
      { title: "Hazard ratio, male against female" },
    ],
    milestones.map((m): Cell[] => [
      m.milestone,
      meanText(m),
      sharesText(m),
      groupsText(m),
      m.groups?.p ?? null,
      m.groups?.betweenLooks.p ?? null,
      ratioText(m, "arrival mass"),
      ratioText(m, "sex"),
    ]),
    say("milestone-table-none"),
  );
}

function meanText({ restrictedMean: r }: MilestoneDescription): string | null {
  if (r.value === null || r.until === null) return null;
  const mean = formatMeasured({ ...r, unit: "" });
  return `${mean} up to day ${formatNumber(r.until, 3)}`;
}

function sharesText({ shares }: MilestoneDescription): string | null {
  const last = shares.at(-1);
  if (last === undefined) return null;
  return [last.seen, last.died, last.left].map((x) => String(Math.round(100 * x))).join(", ");
}

function groupsText({ groups }: MilestoneDescription): string | null {
  if (groups === null) return null;
  return groups.names
    .map((g, i) => `${g}: ${groups.observed[i]} of ${formatNumber(groups.expected[i]!, 3)}`)
    .join("; ");
}

function ratioText({ model, seen }: MilestoneDescription, name: "arrival mass" | "sex"): string {
  if (model === null) return seen < 10 ? "fewer than 10 seen" : "not fitted";
  const term = model.terms.find((t) => t.name === name);
  if (model.status !== "converged") return "did not converge";
  if (term === undefined) return "not in the model";
  const { lower, upper } = term.interval;
  return `${formatNumber(term.hazardRatio, 2)} (${formatNumber(lower ?? 0, 2)} to ${formatNumber(upper ?? Number.POSITIVE_INFINITY, 2)})`;
}
