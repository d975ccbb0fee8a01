import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";
import type { ComparedSeason } from "../../seasons/compared-season.js";
import { formatNumber } from "../../units/format-number.js";
import { type Table, table } from "../section/section.js";
import { spreadCell } from "../section/spread-cell.js";

export { seasonSummaryTable } from "./season-summary-table.js";

/** The seasons of a comparison: n, gain, arrival, and gain at the common arrival. */
export function seasonComparisonTable(
  comparison: Result<"compare-seasons", SeasonComparison>,
): Table {
  const { seasons, window, species, model } = comparison.value;
  const common =
    model === null
      ? ""
      : ` Adjusted to an arrival at ${formatNumber(model.atArrivalMassG, 4)} g and ${formatNumber(model.atArrivalAgeD, 3)} days (adjusted for ${model.used.length === 0 ? "nothing" : model.used.join(", ")}).`;
  return table(
    "seasons-compared",
    `${species}: mean gain from ${window.fromAgeD} to ${window.toAgeD} days of age, mean with standard deviation and n.${common}`,
    [
      { title: "Season" },
      { title: "n", align: "number" },
      { title: "Gain", unit: "g/d" },
      { title: "Mass at arrival", unit: "g" },
      { title: "Age at arrival", unit: "d" },
      { title: "Adjusted gain", unit: "g/d", align: "number", digits: 3 },
    ],
    seasons.map((s: ComparedSeason) => [
      s.season,
      s.n,
      spreadCell(s.gain),
      spreadCell(s.arrivalMass),
      spreadCell(s.arrivalAge),
      s.adjusted,
    ]),
    "No season has an animal with a complete window.",
  );
}

/** The pairs of a comparison: difference, interval, p, decision, checks. */
export function seasonPairsTable(comparison: Result<"compare-seasons", SeasonComparison>): Table {
  return table(
    "season-pairs",
    "Adjusted differences in mean gain between seasons (second minus first), with the interval of each difference by itself, p adjusted for the number of pairs (Holm), and Hedges' g of the unadjusted gains.",
    [
      { title: "From" },
      { title: "To" },
      { title: "Difference", unit: "g/d", align: "number", digits: 3 },
      { title: "p, Holm", align: "number", digits: 2 },
      { title: "Decision" },
      { title: "Hedges' g", align: "number", digits: 2 },
    ],
    comparison.value.pairs.map((p) => [
      p.from,
      p.to,
      p.difference,
      p.adjustedP,
      p.decision,
      p.unadjusted?.hedgesG ?? null,
    ]),
    "There is no pair of seasons with animals enough.",
  );
}
