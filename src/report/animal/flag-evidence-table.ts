import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";
import { withSignalValues } from "../section/signal-value.js";

/** Everything that was judged about one animal that day, raised or not, with its evidence. */
export function flagEvidenceTable(analysis: StudyAnalysis, animal: AnimalAnalysis): Table {
  const wording = screenWording(analysis.settings.zone);
  const { day } = animal;
  const rows: (readonly Cell[])[] =
    day === null
      ? []
      : [
          ...[...day.raised, ...day.within].map((s) => [
            // Its days are not those of the gain on the first screen, nor is its number.
            s.kind === "no gain" ? `${s.kind} (${count(s.evidence.days, "day")})` : s.kind,
            s.raised ? "raised" : "within its limit",
            s.value,
            s.threshold,
            // What was not raised accuses nobody: its number and limit stand, no sentence.
            s.raised ? noticeText(s.sentence, wording) : null,
          ]),
          ...day.notJudged.map((n) => [
            n.kind,
            "not judged",
            null,
            null,
            noticeText(n.why, wording),
          ]),
        ];
  const signals = table(
    "evidence",
    say("flag-checks", {
      animal: animalLabel(animal),
      day: analysis.onDay,
      possible: (day?.raised.length ?? 0) + (day?.within.length ?? 0),
      of: rows.length,
      raised: day?.raised.length ?? 0,
    }),
    [
      { title: "Signal" },
      { title: "State" },
      { title: "Value", align: "number", digits: 3 },
      { title: "Limit", align: "number", digits: 3 },
      { title: "Evidence" },
    ],
    rows,
    `${animalLabel(animal)} was not in care on ${formatDate(analysis.onDay)}: nothing was judged.`,
  );
  return withSignalValues(signals);
}
