import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { asWritten } from "../../core/as-written.js";
import { dayMs } from "../../units/day-ms.js";
import { localText } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";

const done = new Set(["medication", "fluids", "exam"]);

/** What was written about flagged animals in the week up to the day: treatments, fluids, examinations. */
export function treatmentsTable(
  analysis: StudyAnalysis,
  flagged: readonly AnimalAnalysis[],
): Table {
  const { zone } = analysis.settings;
  return table(
    "done-about-flags",
    `Treatments, fluids and examinations of the flagged animals in the 7 days up to the last record.`,
    [{ title: "Animal" }, { title: "When" }, { title: "What" }, { title: "As written" }],
    flagged.flatMap((animal) => {
      const end = animal.series.span?.to ?? 0;
      return animal.series.signs
        .filter((s) => done.has(s.kind) && s.state !== "none" && s.at > end - 7 * dayMs)
        .map((s) => [animalLabel(animal), localText(s.at, zone), s.kind, asWritten(s.written)]);
    }),
    flagged.length === 0
      ? "No animal was flagged on the day looked at."
      : "Nothing was written about the flagged animals in that week: no treatment, fluids or examination.",
  );
}
