import type { Instant } from "../series/animal-series.js";
import type { StudyAnalysis } from "./study-analysis.js";

/**
 * The last feed, weighing or observation of the animals in care: the instant up
 * to which one shift hands over to the next. Null where nobody is in care.
 *
 * @example changeOfShift(analysis) // 1720634400000
 */
export function changeOfShift(analysis: StudyAnalysis): Instant | null {
  const last = analysis.animals.flatMap((a) => {
    const { feeds, weighings, observations } = a.series;
    const rows = a.inCare ? [feeds.at(-1), weighings.at(-1), observations.at(-1)] : [];
    return rows.flatMap((row) => (row === undefined ? [] : [row.at]));
  });
  return last.length === 0 ? null : last.reduce((a, b) => Math.max(a, b));
}
