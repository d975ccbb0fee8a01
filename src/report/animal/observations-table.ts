import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { dayMs } from "../../units/day-ms.js";
import { localText } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";
import { signText } from "../section/sign-text.js";

/** Kinds written many times a day, which would bury the rest. */
const routine = new Set(["urine", "stool", "temperature", "groom", "swim"]);

/**
 * What was seen, measured and given over the last days, routine entries left
 * out unless asked for.
 */
export function observationsTable(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: { readonly days?: number; readonly routine?: boolean } = {},
): Table {
  const days = options.days ?? 21;
  const end = animal.series.span?.to ?? 0;
  const shown = animal.series.signs
    .filter((o) => o.at > end - days * dayMs)
    .filter((o) => options.routine === true || !routine.has(o.kind) || o.question !== null);
  return table(
    "observations",
    `What was written about ${animalLabel(animal)} in the last ${days} days${options.routine === true ? "" : " (routine entries left out)"}.`,
    [
      { title: "When (local)" },
      { title: "Kind" },
      { title: "Value" },
      { title: "Unit" },
      { title: "Notes" },
      { title: "Read as" },
    ],
    shown.map((o) => [
      localText(o.at, analysis.settings.zone),
      o.kind,
      o.row.valueText ?? "–",
      o.row.unit ?? "",
      o.row.notes ?? "",
      signText(o),
    ]),
    "Nothing but routine entries.",
  );
}
