import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { feedingDayOf } from "../units/calendar.js";

/**
 * Was the animal in care on that feeding day? From its admission (its first
 * record where the admission is unknown) until its outcome date, both included.
 *
 * @example inCareOn(series, "2031-05-14", study.settings) // true
 */
export function inCareOn(series: AnimalSeries, day: CivilDate, settings: StudySettings): boolean {
  const from = admittedOn(series, settings);
  if (from === null || day < from) return false;
  const end = recordEnd(series);
  return end === null || day <= end;
}

/** First feeding day in care; null when nothing is recorded. */
export function admittedOn(series: AnimalSeries, settings: StudySettings): CivilDate | null {
  const at = series.animal.admittedAt ?? series.span?.from ?? null;
  return at === null ? null : feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
}

/** Last day in care; null while the animal is in care. */
export function recordEnd(series: AnimalSeries): CivilDate | null {
  const { outcome, outcomeDate } = series.animal;
  if (outcome === null || outcome === "in care") return null;
  return outcomeDate ?? series.daily.at(-1)?.feedingDay ?? null;
}
