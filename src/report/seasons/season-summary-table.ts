import type { Result } from "../../core/result.js";
import type { SeasonSummaries, SeasonSummary } from "../../seasons/summarise-seasons.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import { type Cell, type Column, type Table, table } from "../section/section.js";
import { spreadCell } from "../section/spread-cell.js";

export interface SeasonSummaryTableOptions {
  readonly species?: string;
  /** Without outcomes and without what is missing. Default: all. */
  readonly short?: boolean;
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
    return found === undefined ? null : spreadCell(found.gain);
  };
  const shown = groupsOf(summaries, options);
  const outcomes = [...new Set(shown.flatMap((g) => g.outcomes.map((o) => o.outcome)))];
  return table(
    `${groupedBy(by).replaceAll(" and ", "-")}-summary`,
    say("season-table-summary", {
      by: groupedBy(by),
      ...(options.species === undefined ? {} : { species: options.species }),
    }),
    [
      ...groupColumns(summaries, options),
      { title: "n", align: "number" },
      { title: "Mass at arrival", unit: "g" },
      { title: "Age at arrival", unit: "d" },
      { title: "Dip", unit: "% of arrival mass" },
      { title: "Gain on milk", unit: "g/d" },
      { title: "Gain on milk and solids", unit: "g/d" },
      { title: "Gain on solids", unit: "g/d" },
      ...(options.short
        ? []
        : [
            ...outcomes.map((title) => ({
              title: capital(title),
              align: "number" as const,
            })),
            { title: "Days in care", align: "number" as const },
            { title: "of these not weighed", align: "number" as const },
            { title: "Feeds", align: "number" as const, digits: 6 },
            { title: "of these unknown", align: "number" as const, digits: 6 },
          ]),
    ],
    shown.map((g) => [
      ...groupCells(g, summaries, options),
      g.n,
      spreadCell(g.arrivalMass),
      spreadCell(g.arrivalAge),
      spreadCell(g.dip),
      gainIn(g, "milk"),
      gainIn(g, "mixed"),
      gainIn(g, "solids"),
      ...(options.short
        ? []
        : [
            ...outcomes.map((each) => g.outcomes.find((o) => o.outcome === each)?.n ?? 0),
            g.missing.daysInCare,
            g.missing.daysNotWeighed,
            g.missing.feeds,
            g.missing.feedsUnknown,
          ]),
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

/** What makes the groups, a column each: species, season, formula or sex; the species only where it is not already said. */
export function groupColumns(
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  options: SeasonSummaryTableOptions,
): readonly Column[] {
  return keysOf(summaries, options).map((key) => ({
    title: capital(key),
  }));
}

/** The cells under {@link groupColumns}. */
export function groupCells(
  g: SeasonSummary,
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  options: SeasonSummaryTableOptions,
): readonly Cell[] {
  return keysOf(summaries, options).map((key) => g.group[key] ?? null);
}

const keysOf = (
  { value }: Result<"summarise-seasons", SeasonSummaries>,
  { species }: SeasonSummaryTableOptions,
) => value.by.filter((key) => key !== "species" || species === undefined);

/** "season", "formula and sex": what makes the groups, the species aside. */
function groupedBy(by: SeasonSummaries["by"]): string {
  const rest = by.filter((b) => b !== "species");
  return rest.length === 0 ? "species" : rest.join(" and ");
}
