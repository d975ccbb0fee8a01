import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Result } from "../../core/result.js";
import type { FeedingInterval, FeedingRhythm } from "../../rates/feeding-rhythm.js";
import { formatInstant } from "../../units/format-date.js";
import { count, formatNumber } from "../../units/format-number.js";
import { type Table, table } from "../section/section.js";

/** How an animal was fed: usual interval, longest gaps, late and missed feeds, old formula. */
export function rhythmTable(
  analysis: StudyAnalysis,
  rhythm: Result<"feeding-rhythm", FeedingRhythm>,
): Table {
  const { zone } = analysis.settings;
  const v = rhythm.value;
  const gap = (g: FeedingInterval | null) =>
    g === null
      ? "none on record"
      : `${formatNumber(g.hours, 3)} h from ${formatInstant(g.from, zone)}`;
  const oldest = v.oldFormula.reduce((most, f) => Math.max(most, f.ageH), 0);
  const against = (count: number) =>
    v.againstPlan.against === "nothing"
      ? "not judged: no plan, and no rhythm known for its age"
      : `${count}, held against the ${v.againstPlan.against}`;
  return table(
    "feeding-rhythm",
    `Feeding rhythm of ${v.animalId}: ${count(v.meals, "meal")}.`,
    [{ title: "What" }, { title: "Found" }],
    [
      [
        "Usual interval (median)",
        v.medianIntervalH === null ? "not known" : `${formatNumber(v.medianIntervalH, 3)} h`,
      ],
      ["Longest gap", gap(v.longestGap)],
      ["Longest gap at night (22:00 to 06:00)", gap(v.longestNightGap)],
      ["Late feeds", against(v.againstPlan.lateCount)],
      ["Missed feeds", against(v.againstPlan.missedCount)],
      [
        "Feeds of formula past its use-by hours",
        v.oldFormula.length === 0
          ? "none"
          : `${v.oldFormula.length}, the oldest ${formatNumber(oldest, 3)} h (limit ${formatNumber(v.oldFormula[0]!.useByH, 3)} h, ${v.oldFormula[0]!.limitFrom})`,
      ],
    ],
  );
}
