import type { Result } from "../../core/result.js";
import type { SeasonSummaries } from "../../seasons/summarise-seasons.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";
import { spreadCell } from "../section/spread-cell.js";
import { groupCells, groupColumns, groupsOf } from "./season-summary-table.js";

/** Gain, intake and conversion of each group in each phase, never a mean without n and spread. */
export function phaseSummaryTable(
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  options: { readonly species?: string } = {},
): Table {
  return table(
    "phases",
    say("report-phases"),
    [
      ...groupColumns(summaries, options),
      { title: "Phase" },
      { title: "Days" },
      { title: "Gain", unit: "g/d" },
      { title: "Relative gain", unit: "%/d" },
      { title: "Eaten", unit: "g/d" },
      { title: "Energy eaten", unit: "kcal/d" },
      { title: "Eaten, share of body mass", unit: "%/d" },
      { title: "Energy kept per gain", unit: "kcal/g", align: "number", digits: 3 },
    ],
    groupsOf(summaries, options).flatMap((g) =>
      g.phases.map((p) => [
        ...groupCells(g, summaries, options),
        p.phase,
        spreadCell(p.days),
        spreadCell(p.gain),
        spreadCell(p.relativeGain),
        spreadCell(p.eaten),
        spreadCell(p.kcal),
        spreadCell(p.shareOfMass, "%/d"),
        p.energyPerGain,
      ]),
    ),
    "No phase could be told.",
  );
}
