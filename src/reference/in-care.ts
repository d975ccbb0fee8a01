import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { addDays, feedingDayOf } from "../units/calendar.js";

/**
 * Was the animal in care on that feeding day? From its admission (its first
 * record where the admission is unknown) until its outcome date, both included.
 * One that is fed or weighed is here, whatever the animals table says of its
 * stay; so is one that stands in that table without any date or record.
 *
 * @example inCareOn(series, "2031-05-14", study.settings) // true
 */
export function inCareOn(series: AnimalSeries, day: CivilDate, settings: StudySettings): boolean {
  return careReader(series, settings)(day);
}

/** The same for one animal and any day: its stay is looked up once. */
export function careReader(
  series: AnimalSeries,
  settings: StudySettings,
): (day: CivilDate) => boolean {
  const from = admittedOn(series, settings);
  const end = recordEnd(series);
  const newest = [series.feeds.at(-1)?.feedingDay ?? "", series.weighings.at(-1)?.feedingDay ?? ""];
  const lastWritten = newest.sort()[1]!;
  return (day) => {
    if (from === null) return end === null;
    if (day >= from && (end === null || day <= end)) return true;
    // Asked for every day of a study: long after its last row nothing is looked up.
    if (lastWritten < addDays(day, -1)) return false;
    return outside(series, day, from, end) !== null;
  };
}

/**
 * The days outside of which `careReader` says no of an animal, so that nobody asks for years
 * before it came and after it left; null where it says no of every day.
 */
export function careSpan(
  series: AnimalSeries,
  settings: StudySettings,
): { readonly from: CivilDate; readonly to: CivilDate } | null {
  const [always, never] = ["", "~"];
  const from = admittedOn(series, settings);
  const end = recordEnd(series);
  if (from === null) return end === null ? { from: always, to: never } : null;
  const { feeds, weighings } = series;
  const days = (i: number) =>
    [feeds.at(i), weighings.at(i)].flatMap((row) => row?.feedingDay ?? []);
  const first = [from, ...days(0)].sort()[0]!;
  // One fed or weighed after it left is here on the next day, too.
  const last = [...days(-1).map((day) => addDays(day, 1)), end ?? never].sort().at(-1)!;
  return { from: first, to: last };
}

/**
 * Why an animal is here though the animals table says otherwise: fed or weighed
 * on that feeding day or the one before, outside of its stay. Null for all others.
 */
export function outsideStay(
  series: AnimalSeries,
  day: CivilDate,
  settings: StudySettings,
): Notice | null {
  return outside(series, day, admittedOn(series, settings), recordEnd(series));
}

function outside(
  series: AnimalSeries,
  day: CivilDate,
  from: CivilDate | null,
  end: CivilDate | null,
): Notice | null {
  const animal = series.animal.animalId;
  const before = from !== null && day < from;
  const after = end !== null && day > end;
  if (!before && !after) return null;
  const since = addDays(day, -1);
  const here = (rows: readonly { readonly feedingDay: CivilDate }[], end: CivilDate | null) => {
    const last = lastOnOrBefore(rows, day);
    return last !== null && last >= since && (end === null || last > end);
  };
  // Nobody feeds one that has left; one that died may be weighed the day after.
  const weighedAfter = before ? null : addDays(end!, 1);
  if (!here(series.feeds, before ? null : end) && !here(series.weighings, weighedAfter))
    return null;
  return before
    ? notice("in-care-before-arrival", "problem", { animal, from: from! })
    : notice("in-care-after-leaving", "problem", {
        animal,
        end: end!,
        outcome: series.animal.outcome,
      });
}

/** The newest feeding day up to `day` of rows in order; null without one. Halves, for every day is asked. */
function lastOnOrBefore(
  rows: readonly { readonly feedingDay: CivilDate }[],
  day: CivilDate,
): CivilDate | null {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]!.feedingDay <= day) low = middle + 1;
    else high = middle;
  }
  return rows[low - 1]?.feedingDay ?? null;
}

/** First feeding day in care; null when nothing is recorded. */
export function admittedOn(series: AnimalSeries, settings: StudySettings): CivilDate | null {
  const at = series.animal.admittedAt ?? series.span?.from ?? null;
  return at === null ? null : feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
}

/** Last day in care; null while the animal is in care. Without a date of the outcome, that of its last record. */
export function recordEnd(series: AnimalSeries): CivilDate | null {
  const { outcome, outcomeDate } = series.animal;
  if (outcome === null || outcome === "in care") return null;
  if (outcomeDate !== null) return outcomeDate;
  // In long-term care without a day on which that began elsewhere: it is still here.
  if (outcome === "long-term care") return null;
  const last = [series.weighings.at(-1)?.feedingDay, series.feeds.at(-1)?.feedingDay];
  return (
    last
      .filter((d) => d !== undefined)
      .sort()
      .at(-1) ?? null
  );
}
