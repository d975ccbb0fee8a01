import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { measured } from "../../core/measured.js";
import type { ContemporaryZ } from "../../reference/z-scores.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { type Cell, type Table, table } from "../section/section.js";

/**
 * Mass for age and recent gain of one animal against its contemporaries. Beside
 * the day's flags, not among them: earlier seasons may be included here.
 */
export function contemporaryZTable(analysis: StudyAnalysis, animal: AnimalAnalysis): Table {
  const wording = screenWording(analysis.settings.zone);
  const row = (name: string, z: ContemporaryZ): readonly Cell[] => [
    name,
    z.z,
    z.own === null ? null : measured(z.own, z.unit),
    z.centre === null ? null : measured(z.centre, z.unit),
    z.n,
    z.z.value === null && z.z.why !== undefined
      ? noticeText(z.z.why, wording)
      : [z.by === null ? "" : `by ${z.by}`, ...z.notices.map((n) => noticeText(n, wording))].join(
          ". ",
        ),
  ];
  return table(
    "contemporary-z",
    `${animalLabel(animal)} against its contemporaries on ${formatDate(analysis.onDay)} (a z of −2 lies below about 98 in 100 of them; it is a comparison, not a limit of health).`,
    [
      { title: "What" },
      { title: "z", align: "number", digits: 2 },
      { title: "This animal", align: "number", digits: 4 },
      { title: "Contemporaries' centre", align: "number", digits: 4 },
      { title: "n", align: "number" },
      { title: "How" },
    ],
    animal.z === null
      ? []
      : [
          row("Mass for its age", animal.z.level),
          row(`Gain over ${count(analysis.gainDays, "day")}`, animal.z.gain),
        ],
    `${animalLabel(animal)} was not in care on ${formatDate(analysis.onDay)}.`,
  );
}
