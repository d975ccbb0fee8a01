import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { animalLabel } from "../section/animal-label.js";
import { type Cell, type Table, table } from "../section/section.js";

/** Everything that was judged about one animal that day, raised or not, with its evidence. */
export function flagEvidenceTable(analysis: StudyAnalysis, animal: AnimalAnalysis): Table {
  const wording = screenWording(analysis.settings.zone);
  const { day } = animal;
  const rows: (readonly Cell[])[] =
    day === null
      ? []
      : [
          ...[...day.raised, ...day.within].map((s) => [
            s.kind,
            s.raised ? "raised" : "within its limit",
            s.value,
            s.threshold,
            noticeText(s.sentence, wording),
          ]),
          ...day.notJudged.map((n) => [
            n.kind,
            "not judged",
            null,
            null,
            noticeText(n.why, wording),
          ]),
        ];
  return table(
    "evidence",
    `What was judged about ${animalLabel(animal)} on ${analysis.onDay}.`,
    [
      { title: "Signal" },
      { title: "State" },
      { title: "Value", align: "number", digits: 3 },
      { title: "Limit", align: "number", digits: 3 },
      { title: "Evidence" },
    ],
    rows,
    `${animalLabel(animal)} was not in care on ${analysis.onDay}: nothing was judged.`,
  );
}
