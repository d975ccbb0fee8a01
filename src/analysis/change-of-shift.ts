import type { Instant } from "../series/animal-series.js";
import { feedingDaySpan } from "../units/calendar.js";
import type { StudyAnalysis } from "./study-analysis.js";

/**
 * The last feed, weighing or observation of the animals in care, the end of the
 * records where they have none: the instant up to which one shift hands over to
 * the next. A row later than the end of the records (a stray date, one written
 * ahead) is none. Null where nobody is in care.
 *
 * @example changeOfShift(analysis) // 1720634400000
 */
export function changeOfShift(analysis: StudyAnalysis): Instant | null {
  const inCare = analysis.animals.filter((a) => a.inCare);
  if (inCare.length === 0) return null;
  const end = analysis.records.end ?? Number.POSITIVE_INFINITY;
  const last = inCare.flatMap(({ series: { feeds, weighings, signs } }) =>
    [feeds, weighings, signs].flatMap(
      (rows: readonly { readonly at: Instant }[]) =>
        rows.filter((row) => row.at <= end).at(-1)?.at ?? [],
    ),
  );
  return last.length === 0 ? analysis.records.end : last.reduce((a, b) => Math.max(a, b));
}

/**
 * The instant that the day's pages speak of: the change of shift; the end of the feeding
 * day where nobody is in care, since somebody for whom nothing but an order is written
 * still stands on the pages.
 *
 * @example instantOfDay(analysis) // 1720634400000
 */
export function instantOfDay(analysis: StudyAnalysis): Instant {
  const { zone, feedingDayStartHour } = analysis.settings;
  const { to } = feedingDaySpan(analysis.onDay, zone, feedingDayStartHour);
  return changeOfShift(analysis) ?? to - 1;
}
