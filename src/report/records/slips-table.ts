import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { localText } from "../../units/format-date.js";
import { namesOf } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/**
 * Weighings that look like slips of the pen, with the suggested correction.
 * They stand for no day until somebody decides; the written value stays.
 */
export function slipsTable(analysis: StudyAnalysis): Table {
  const { slips } = analysis.records;
  const name = namesOf(analysis.animals);
  const wording = screenWording(analysis.settings.zone);
  return table(
    "suspected-slips",
    say("report-slips", { weighings: slips.length }),
    [
      { title: "Animal" },
      { title: "When (local)" },
      { title: "Line", align: "number", digits: 9 },
      { title: "Net mass as written", unit: "g", align: "number", digits: 6, asWritten: true },
      { title: "Suggested", unit: "g", align: "number", digits: 6 },
      { title: "Why" },
    ],
    slips.map(({ animalId, weighing }) => [
      name(animalId),
      localText(weighing.at, analysis.settings.zone),
      weighing.row.origin.line,
      weighing.netG,
      weighing.slip?.suggestedG ?? null,
      noticeText(weighing.why, wording),
    ]),
    "No weighing looks like a slip of the pen.",
  );
}
