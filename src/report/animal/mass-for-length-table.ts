import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Result } from "../../core/result.js";
import type { MassForLength } from "../../rates/mass-for-length.js";
import { localText } from "../../units/format-date.js";
import { formatNumber } from "../../units/format-number.js";
import { type Table, table } from "../section/section.js";

/** How heavy one animal was for its length, each time it was measured. */
export function massForLengthTable(
  analysis: StudyAnalysis,
  result: Result<"mass-for-length", MassForLength>,
  animalId: string,
): Table {
  const { exponent, spreadPct, rows } = result.value;
  const line =
    exponent.value === null
      ? ""
      : ` The group's mass grows as length to the power ${formatNumber(exponent.value, 3)} (${result.basis.used} lengths, spread about the line ${formatNumber(spreadPct.value ?? 0, 2)} %).`;
  return table(
    "mass-for-length",
    `Mass of ${animalId} for its length, against the animals of its species: 100 % is the group's mass at that length. No condition score.${line}`,
    [
      { title: "When (local)" },
      { title: "Length", unit: "cm", align: "number", digits: 3 },
      { title: "Smoothed mass", unit: "g", align: "number", digits: 4 },
      { title: "Mass for length", unit: "%", align: "number", digits: 3 },
    ],
    rows
      .filter((r) => r.animalId === animalId)
      .slice(-8)
      .map((r) => [localText(r.at, analysis.settings.zone), r.lengthCm, r.massG, r.percent]),
    "Its length was not measured, or too few animals were.",
  );
}
