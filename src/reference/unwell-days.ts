import type { AnimalSeries, StudySeries } from "../series/animal-series.js";
import { isDeath } from "../series/is-death.js";
import { showsIllness } from "../series/signs/shows-illness.js";
import { feedingDayOf, numberOfDate } from "../units/calendar.js";
import { recordEnd } from "./in-care.js";

/** Days around an illness, and before a death, on which an animal is no healthy reference for others. */
export const unwellBeforeD = 3;
export const unwellAfterD = 7;
export const beforeDeathD = 14;

/** Numbers of the feeding days on which an animal, or the group it lives in, was ill or treated. */
export function unwellDays(study: StudySeries, series: AnimalSeries): readonly number[] {
  const { zone, feedingDayStartHour } = study.settings;
  const group = study.events.filter(
    (e) => e.kind === "illness in group" && (e.scope === "study" || e.scope === "season"),
  );
  return [...series.signs.filter(showsIllness), ...group].map(({ at }) =>
    numberOfDate(feedingDayOf(at, zone, feedingDayStartHour)),
  );
}

/** True where a day lies so near one of them that, looking back, the animal was not well. */
export function isNearUnwell(unwell: readonly number[], day: number): boolean {
  return unwell.some((d) => day - d >= -unwellBeforeD && day - d <= unwellAfterD);
}

/** Number of the feeding day on which an animal died; null where it did not, or the day is unknown. */
export function dayOfDeath(series: AnimalSeries): number | null {
  const end = recordEnd(series);
  return end !== null && isDeath(series.animal.outcome) ? numberOfDate(end) : null;
}
