import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import type { AnimalDay } from "../../flags/animal-day/flag.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { byName } from "../section/by-name.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";
import { withSignalValues } from "../section/signal-value.js";

/**
 * The day's list, worst first: each raised signal with its evidence in a
 * sentence; then animals that could not be judged, with the reason; then those
 * not flagged, which is no statement about their health.
 */
export function flagsTable(analysis: StudyAnalysis): Table {
  const { animals, counts, onDay } = analysis.flags.value;
  const wording = screenWording(analysis.settings.zone);
  const rows = animals.flatMap((day): (readonly Cell[])[] => {
    const label = animalLabel(day);
    if (day.raised.length > 0) {
      return day.raised.map((s) => [
        label,
        day.status,
        s.kind,
        s.value,
        noticeText(byName(s.sentence, day), wording),
      ]);
    }
    const why =
      day.status === "not judged"
        ? [noticeText(byName(day.sentence, day), wording), ...reasonsOf(day, wording)].join(" ")
        : // What was not raised accuses nobody: no signal is named.
          say("flags-none-raised");
    return [[label, day.status, "–", null, why]];
  });
  const signals = table(
    "flags",
    `${formatDate(onDay)}: ${counts.flagged} flagged${flaggedBy(counts)}, ${counts.notJudged} not judged by weighings, ${counts.notFlagged} not flagged. Not flagged does not mean healthy.`,
    [
      { title: "Animal" },
      { title: "Status" },
      { title: "Signal" },
      { title: "Value", align: "number", digits: 3 },
      { title: "Evidence" },
    ],
    rows,
    "No animal was in care that day.",
  );
  return withSignalValues(signals);
}

/** Why its weighings could not be judged; what else could not stands on the animal's page. */
const reasonsOf = (day: AnimalDay, wording: Wording) =>
  [...new Set(day.notJudged.map((n) => noticeText(byName(n.why, day), wording)))].slice(0, 1);

/** What named the flagged ones: only weighings stand under the number of false flags that was chosen. */
function flaggedBy(counts: StudyAnalysis["flags"]["value"]["counts"]): string {
  if (counts.flagged === 0) return "";
  return ` (by weighings ${counts.byWeighings}, by a danger rule ${counts.byDanger}, by common practice alone ${counts.byPracticeOnly})`;
}
