import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { DecisionRow } from "../../records/study.js";
import { localText } from "../../units/format-date.js";
import { formatMass } from "../../units/format-measured.js";
import { namesOf } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** What people decided about doubted rows, beside the rows as written. */
export function decisionsTable(
  decisions: readonly DecisionRow[],
  analysis: Pick<StudyAnalysis, "animals" | "settings">,
): Table {
  const { zone } = analysis.settings;
  const name = namesOf(analysis.animals);
  return table(
    "decisions",
    say("report-decisions", { n: decisions.length }),
    [
      { title: "Animal" },
      { title: "When" },
      { title: "As written" },
      { title: "Decision" },
      { title: "New values" },
      { title: "Decided by" },
      { title: "On" },
      { title: "Why" },
    ],
    decisions.map((d) => [
      name(d.animalId),
      localText(d.at, zone),
      asWritten(d),
      d.decision,
      [
        ...(d.newAnimalId === null ? [] : [d.newAnimalId]),
        ...(d.newAt === null ? [] : [localText(d.newAt, zone)]),
        ...(d.newMassG === null ? [] : [formatMass(d.newMassG)]),
        ...(d.newTareG === null ? [] : [`tare ${formatMass(d.newTareG)}`]),
        ...((d.newOfferedG ?? null) === null ? [] : [`offered ${formatMass(d.newOfferedG!)}`]),
        ...((d.newRefusedG ?? null) === null ? [] : [`refused ${formatMass(d.newRefusedG!)}`]),
        ...[d.newValue, d.newUnit].filter((x) => typeof x === "string"),
      ].join(", "),
      d.decidedBy,
      d.decidedOn,
      d.why,
    ]),
    say("report-decisions-none"),
  );
}

function asWritten(d: DecisionRow): string {
  if (d.massG !== null) return formatMass(d.massG);
  if (d.offeredG !== undefined && d.offeredG !== null) return `${formatMass(d.offeredG)} offered`;
  return [d.kind, d.value].filter((x) => typeof x === "string").join(" ");
}
