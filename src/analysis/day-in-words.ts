import { closestName } from "../records/closest-name.js";
import type { Study } from "../records/study.js";
import { feedingDayOf } from "../units/calendar.js";

/**
 * What to do about a day before every weighing: the weighed day that differs from it by a
 * slip of the pen where there is one, and from when to when the weighings go.
 *
 * @example dayBeforeRecords(study, "2024-03-05") // "Is 2025-03-05 meant? The weighings go from 2025-03-01 to 2025-03-14."
 */
export function dayBeforeRecords(study: Study, asked: string): string {
  const { zone, feedingDayStartHour } = study.settings;
  const days = [
    ...new Set(study.tables.weighings.map((w) => feedingDayOf(w.at, zone, feedingDayStartHour))),
  ].sort();
  const near = closestName(asked, new Set(days));
  const meant = near === null ? "" : `Is ${near} meant? `;
  return `${meant}The weighings go from ${days[0]} to ${days.at(-1)}.`;
}
