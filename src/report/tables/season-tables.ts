import type { Result } from "../../core/result.js";
import type { ComparedSeason, SeasonComparison } from "../../seasons/compare-seasons.js";
import type { Spread } from "../../seasons/spread.js";
import type { SeasonSummaries, SeasonSummary } from "../../seasons/summarise-seasons.js";
import { formatNumber } from "../../units/format.js";
import { type Table, table } from "../section.js";

/** Seasons in numbers: who came, how they gained in each phase, what became of them, what is missing. */
export function seasonSummaryTable(
  summaries: Result<"summarise-seasons", SeasonSummaries>,
  options: { readonly species?: string } = {},
): Table {
  const groups = summaries.value.groups.filter(
    (g) => options.species === undefined || g.group.species === options.species,
  );
  const gainIn = (g: SeasonSummary, phase: string) => {
    const found = g.phases.find((p) => p.phase === phase);
    return found === undefined ? "none" : spreadText(found.gain);
  };
  return table(
    "season-summary",
    `Seasons in numbers${options.species === undefined ? "" : `, ${options.species}`}: mean ± standard deviation with n. Gains by phase are each animal's own slope over that phase.`,
    [
      { title: "Group" },
      { title: "n", align: "number" },
      { title: "Mass at arrival", unit: "g" },
      { title: "Age at arrival", unit: "d" },
      { title: "Gain on milk", unit: "g/d" },
      { title: "Gain on milk and solids", unit: "g/d" },
      { title: "Gain on solids", unit: "g/d" },
      { title: "Outcomes" },
      { title: "Feeds of unknown amount" },
    ],
    groups.map((g) => [
      Object.values(g.group).join(", "),
      g.n,
      spreadText(g.arrivalMass),
      spreadText(g.arrivalAge),
      gainIn(g, "milk"),
      gainIn(g, "mixed"),
      gainIn(g, "solids"),
      g.outcomes.map((o) => `${o.outcome} ${o.n}`).join(", "),
      `${g.missing.feedsUnknown} of ${g.missing.feeds}`,
    ]),
    "No animal.",
  );
}

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
    `${species}: mean gain from ${window.fromAgeD} to ${window.toAgeD} days of age, mean ± standard deviation.${common}`,
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
      spreadText(s.gain),
      spreadText(s.arrivalMass),
      spreadText(s.arrivalAge),
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
      { title: "Pair" },
      { title: "Difference", unit: "g/d", align: "number", digits: 3 },
      { title: "p, Holm", align: "number", digits: 2 },
      { title: "Decision" },
      { title: "Hedges' g", align: "number", digits: 2 },
    ],
    comparison.value.pairs.map((p) => [
      `${p.from} to ${p.to}`,
      p.difference,
      p.adjustedP,
      p.decision,
      p.unadjusted?.hedgesG ?? null,
    ]),
    "There is no pair of seasons with animals enough.",
  );
}

/** Mean ± standard deviation with n, or why there is none. */
export function spreadText(s: Spread, digits = 3): string {
  if (s.mean === null) return "none";
  const sd = s.sd === null ? "spread not known" : `± ${formatNumber(s.sd, digits)}`;
  return `${formatNumber(s.mean, digits)} ${sd} (n ${s.n}${s.missing > 0 ? `, ${s.missing} missing` : ""})`;
}
