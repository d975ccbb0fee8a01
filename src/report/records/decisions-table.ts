import type { DecisionRow } from "../../records/study.js";
import { formatMass, localText } from "../../units/format.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** What people decided about suspected slips, beside the rows as written. */
export function decisionsTable(decisions: readonly DecisionRow[], zone: string): Table {
  return table(
    "decisions",
    say("report-decisions", { n: decisions.length }),
    [
      { title: "Animal" },
      { title: "When" },
      { title: "Reading", unit: "g", align: "number", digits: 6 },
      { title: "Decision" },
      { title: "New values" },
      { title: "Decided by" },
      { title: "On" },
      { title: "Why" },
    ],
    decisions.map((d) => [
      d.animalId,
      localText(d.at, zone),
      d.massG,
      d.decision,
      [
        ...(d.newAnimalId === null ? [] : [d.newAnimalId]),
        ...(d.newAt === null ? [] : [localText(d.newAt, zone)]),
        ...(d.newMassG === null ? [] : [formatMass(d.newMassG)]),
        ...(d.newTareG === null ? [] : [`tare ${formatMass(d.newTareG)}`]),
      ].join(", "),
      d.decidedBy,
      d.decidedOn,
      d.why,
    ]),
    say("report-decisions-none"),
  );
}
