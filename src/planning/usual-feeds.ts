import type { AnimalSeries, OrderLine, SeriesFeed } from "../series/animal-series.js";
import { median } from "../stats/descriptive/median.js";
import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { minuteMs } from "../units/minute-ms.js";

const usualOverD = 5;
/** Fewer feeds than this make nothing usual. */
const fewestFeeds = 5;

/**
 * What one feed of a line's diet usually is for this animal, g offered: the median
 * over the last five days of that diet, else of its kind; null where too few were
 * written: a first fish is small, and no slip.
 *
 * @example usualFeedG(series, line, at) // 62
 */
export function usualFeedG(series: AnimalSeries, line: OrderLine, at: number): number | null {
  const recent = series.feeds.filter((f) => f.at <= at && f.at > at - usualOverD * dayMs);
  const kinds: readonly ((f: SeriesFeed) => boolean)[] = [
    (f) => f.dietId === line.dietId,
    (f) => f.composition !== null && f.composition.kind === line.diet?.kind,
  ];
  for (const fits of kinds) {
    const own = recent.filter(fits).map((f) => f.offeredG);
    if (own.length >= fewestFeeds) return median(own);
  }
  return null;
}

/**
 * The clock times at which an animal is usually fed, "HH:MM" to ten minutes, and
 * over how many days: the middle of its first, second, ... feed over those of the
 * last five feeding days that had the most usual number of feeds. Empty where
 * fewer than three such days are on record. Habit, never an order.
 *
 * @example usualHours(series, at, "Europe/Berlin").times // ["06:00", "10:00", "14:00"]
 */
export function usualHours(
  series: AnimalSeries,
  before: number,
  zone: string,
): { readonly times: readonly string[]; readonly days: number } {
  const begin = 60 * series.orders.startHour;
  const byDay = new Map<string, number[]>();
  for (const f of series.feeds) {
    if (f.at > before || f.at <= before - (usualOverD + 1) * dayMs) continue;
    // Counted from the begin of the feeding day, so that midnight divides nothing.
    const minutes = (Math.floor((toLocal(f.at, zone) % dayMs) / minuteMs) + 1440 - begin) % 1440;
    const day = byDay.get(f.feedingDay) ?? [];
    // Two diets given together are one meal.
    if (!day.some((m) => Math.abs(m - minutes) < 20)) day.push(minutes);
    byDay.set(f.feedingDay, day);
  }
  // The last day is still under way.
  const days = [...byDay].sort(([a], [b]) => (a < b ? -1 : 1)).slice(-usualOverD - 1, -1);
  const counts = days.map(([, minutes]) => minutes.length);
  const usual = counts
    .slice()
    .sort((a, b) => counts.filter((c) => c === a).length - counts.filter((c) => c === b).length)
    .at(-1);
  const alike = days.filter(([, minutes]) => minutes.length === usual).map(([, m]) => m);
  if (usual === undefined || alike.length < 3) return { times: [], days: 0 };
  const times = Array.from({ length: usual }, (_, i) => {
    const near = Math.round(median(alike.map((minutes) => minutes[i]!))! / 10) * 10;
    const clock = (near + begin) % 1440;
    const two = (n: number) => String(n).padStart(2, "0");
    return `${two(Math.floor(clock / 60))}:${two(clock % 60)}`;
  });
  return { times, days: alike.length };
}
