import type { Result } from "../../core/result.js";
import type { SeasonSummaries, SeasonSummary } from "../../seasons/summarise-seasons.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";
import { spreadCell } from "../section/spread-cell.js";

export interface SeasonSummaryTableOptions {
  readonly species?: string;
}

/**
 * Groups of animals (seasons, formulas, sexes) in numbers: who came, how they
 * gained in each phase, what became of them, what is missing.
 */
export function seasonSummaryTable(
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  options: SeasonSummaryTableOptions = {},
): Table {
  const { by } = summaries.value;
  const gainIn = (g: SeasonSummary, phase: string) => {
    const found = g.phases.find((p) => p.phase === phase);
    return found === undefined ? "none" : spreadCell(found.gain);
  };
  return table(
    `${groupedBy(by).replaceAll(" and ", "-")}-summary`,
    say("season-table-summary", {
      by: groupedBy(by),
      ...(options.species === undefined ? {} : { species: options.species }),
    }),
    [
      { title: "Group" },
      { title: "n", align: "number" },
      { title: "Mass at arrival", unit: "g" },
      { title: "Age at arrival", unit: "d" },
      { title: "Dip", unit: "% of arrival mass" },
      { title: "Gain on milk", unit: "g/d" },
      { title: "Gain on milk and solids", unit: "g/d" },
      { title: "Gain on solids", unit: "g/d" },
      { title: "Outcomes" },
      { title: "Missing" },
    ],
    groupsOf(summaries, options).map((g) => [
      groupText(g, options),
      g.n,
      spreadCell(g.arrivalMass),
      spreadCell(g.arrivalAge),
      spreadCell(g.dip),
      gainIn(g, "milk"),
      gainIn(g, "mixed"),
      gainIn(g, "solids"),
      g.outcomes.map((o) => `${o.outcome} ${o.n}`).join(", "),
      `${g.missing.daysNotWeighed} of ${g.missing.daysInCare} days not weighed, ${g.missing.feedsUnknown} of ${g.missing.feeds} feeds unknown`,
    ]),
    "No animal.",
  );
}

/** The groups of one species, or all. */
export function groupsOf(
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  { species }: SeasonSummaryTableOptions,
): readonly SeasonSummary[] {
  return summaries.value.groups.filter(
    (g) => species === undefined || g.group.species === undefined || g.group.species === species,
  );
}

/** What a group is called; the species only where it is not already said. */
export function groupText(g: SeasonSummary, { species }: SeasonSummaryTableOptions): string {
  const names = Object.entries(g.group).filter(
    ([key]) => key !== "species" || species === undefined,
  );
  return names.map(([, value]) => value).join(", ");
}

/** "season", "formula and sex": what makes the groups, the species aside. */
function groupedBy(by: SeasonSummaries["by"]): string {
  const rest = by.filter((b) => b !== "species");
  return rest.length === 0 ? "species" : rest.join(" and ");
}
