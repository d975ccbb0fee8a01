import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { AnimalSeries } from "../../series/animal-series.js";
import { screenWording } from "../../units/format.js";
import { localText } from "../../units/format-date.js";
import { namesOf } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** Feeds that look like slips of the pen: what was eaten then is a range until somebody decides. */
export function doubtedFeedsTable(
  analysis: StudyAnalysis,
  animals: readonly AnimalSeries[],
): Table {
  const { zone } = analysis.settings;
  const wording = screenWording(zone);
  const name = namesOf(analysis.animals);
  const rows = animals.flatMap((a) =>
    a.feeds.flatMap((f) =>
      f.slip === undefined
        ? []
        : [
            [
              name(a.animal.animalId),
              localText(f.at, zone),
              f.row.origin.line,
              f.row.offeredG,
              f.slip.suggestedG,
              noticeText(f.slip.why, wording),
            ],
          ],
    ),
  );
  return table(
    "doubted-feeds",
    say("report-doubted-feeds", { feeds: rows.length }),
    [
      { title: "Animal" },
      { title: "When (local)" },
      { title: "Line", align: "number", digits: 9 },
      { title: "Offered as written", unit: "g", align: "number", digits: 6, asWritten: true },
      { title: "Suggested", unit: "g", align: "number", digits: 6 },
      { title: "Why" },
    ],
    rows,
    "No feed looks like a slip of the pen.",
  );
}
