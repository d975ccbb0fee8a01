import type { ComparedSpecies } from "../../analysis/season-answers.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Result } from "../../core/result.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { gainsTable } from "../day/gains-table.js";
import { type Block, caution, list, type Section, section } from "../section/section.js";

/** What a reader with one minute needs: who, how many, what stands out, how far the records go. */
export function summarySection(
  result: Result<"analyse", StudyAnalysis>,
  compared: readonly ComparedSpecies[],
): Section {
  const { animals, onDay, records, flags, settings } = result.value;
  const inCare = animals.filter((a) => a.inCare);
  const seasons = [...new Set(animals.map((a) => a.season).filter((s) => s !== null))].sort();
  const rows = (pick: (c: (typeof records.counts)[number]) => number) =>
    records.counts.reduce((sum, c) => sum + pick(c), 0);
  const bySpecies = [...new Set(animals.map((a) => a.species))].map(
    (species) => `${animals.filter((a) => a.species === species).length} ${species}`,
  );
  const { flagged, notJudged } = flags.value.counts;
  const outcomes = new Map<string, number>();
  for (const a of animals) {
    const outcome = a.inCare ? "in care" : (a.series.animal.outcome ?? "outcome not written");
    outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
  }
  const comparisons = compared
    .map((each) => each.comparison)
    .filter((c) => c.value.pairs.length > 0)
    .map((c) => `${c.value.species} (${c.value.seasons.length} seasons)`);
  const lines = [
    `Records up to the end of ${formatDate(onDay)}, times of ${settings.zone}.`,
    `${animals.length} ${animals.length === 1 ? "animal" : "animals"} (${bySpecies.join(", ")}) in ${seasons.length === 0 ? "no named season" : `season${seasons.length === 1 ? "" : "s"} ${seasons.join(", ")}`}; ${[...outcomes].map(([what, n]) => `${n} ${what}`).join(", ")}.`,
    `${rows((c) => c.rowsIn)} rows read: ${rows((c) => c.accepted)} accepted, ${rows((c) => c.setAside)} set aside; ${count(records.slips.length, "suspected slip")} among the weighings.`,
    inCare.length === 0
      ? "No animal was in care on that day."
      : `${flagged} of ${count(inCare.length, "animal")} in care ${flagged === 1 ? "deserves" : "deserve"} a second look; ${notJudged} could not be judged.`,
    ...(comparisons.length === 0
      ? []
      : [`Seasons compared: ${comparisons.join(", ")}; see the comparison.`]),
  ];
  const blocks: Block[] = [
    list(lines),
    caution(
      "These numbers come from written records and are no diagnosis. The attending veterinarian and the permit conditions decide; not flagged does not mean healthy.",
    ),
  ];
  if (inCare.length > 0) blocks.push(gainsTable(result.value));
  return section("Summary", blocks);
}
