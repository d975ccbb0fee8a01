import { localInstant, readLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import { readDate } from "../units/read-time.js";

/**
 * Reads instants written as `YYYY-MM-DD HH:MM` (or with a T) in a zone, as
 * `readTime` does, each date but once. NaN says that the text must be read in full:
 * it is written otherwise, or the clocks are changed near that day.
 *
 * @example plainInstants("UTC")("2025-07-01 06:10") // 1751350200000
 */
export function plainInstants(zone: string): PlainInstants {
  /** Instant of local midnight by year, month and day in one number. */
  const midnights = new Map<number, number>();
  return (text) => {
    if (text.length !== 16) return Number.NaN;
    const between = text.charCodeAt(10);
    if (between !== 32 && between !== 84) return Number.NaN;
    if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45 || text.charCodeAt(13) !== 58)
      return Number.NaN;
    const hour = two(text, 11);
    const minute = two(text, 14);
    if (!(hour <= 23 && minute <= 59)) return Number.NaN;
    const date = ((two(text, 0) * 100 + two(text, 2)) * 100 + two(text, 5)) * 100 + two(text, 8);
    let midnight = midnights.get(date);
    if (midnight === undefined) {
      if (Number.isNaN(date)) return Number.NaN;
      midnight = midnightOf(text.slice(0, 10), zone);
      if (midnights.size < MOST_DATES) midnights.set(date, midnight);
    }
    return midnight + hour * hourMs + minute * minuteMs;
  };
}

/** The instant that a text says plainly, or NaN. */
export type PlainInstants = (text: string) => number;

const MOST_DATES = 100_000;

/** The instant of local midnight; NaN for no date, or where the offset is not the same for days around. */
function midnightOf(date: string, zone: string): number {
  const read = readDate(date, "year-month-day");
  if (read.kind !== "date") return Number.NaN;
  const local = Date.UTC(+date.slice(0, 4), +date.slice(5, 7) - 1, +date.slice(8, 10));
  const offset = local - localInstant(local, zone);
  for (let step = -2 * dayMs; step <= 3 * dayMs; step += hourMs) {
    const near = readLocal(local + step, zone);
    if (near.kind !== "instant" || local + step - near.at !== offset) return Number.NaN;
  }
  return local - offset;
}

/** Two digits as a number; NaN for anything else. */
function two(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? 10 * tens + ones : Number.NaN;
}
