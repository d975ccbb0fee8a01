import { dayMs } from "./day-ms.js";
import { hourMs } from "./hour-ms.js";
import { type Instant, zoneClock } from "./zone.js";

/** A civil date as text, `YYYY-MM-DD`. */
export type CivilDate = string;

/** What became of a local clock time: one instant, none, or two. */
export type LocalReading =
  | { readonly kind: "instant"; readonly at: Instant }
  /** The clocks were put forward over it. `at` is what an unadjusted clock would mean. */
  | { readonly kind: "does not exist"; readonly at: Instant }
  /** The clocks were put back over it. */
  | { readonly kind: "happens twice"; readonly first: Instant; readonly second: Instant };

/** A local clock time: `localMs` counts ms since 1970-01-01T00:00 on the wall clock. */
export function readLocal(localMs: number, zone: string): LocalReading {
  const clock = zoneClock(zone);
  const before = clock.offsetAt(localMs - dayMs);
  const after = clock.offsetAt(localMs + dayMs);
  const early = localMs - Math.max(before, after);
  const late = localMs - Math.min(before, after);
  const earlyFits = early + clock.offsetAt(early) === localMs;
  const lateFits = late + clock.offsetAt(late) === localMs;
  if (early === late) return { kind: "instant", at: early };
  if (earlyFits && lateFits) return { kind: "happens twice", first: early, second: late };
  if (earlyFits) return { kind: "instant", at: early };
  if (lateFits) return { kind: "instant", at: late };
  return { kind: "does not exist", at: localMs - before };
}

/** The wall clock of an instant, as ms since 1970-01-01T00:00 on that wall clock. */
export function toLocal(at: Instant, zone: string): number {
  return at + zoneClock(zone).offsetAt(at);
}

/**
 * The civil day of an instant in a zone.
 *
 * @example civilDayOf(Date.parse("2025-07-01T23:30Z"), "Europe/Berlin") // "2025-07-02"
 */
export function civilDayOf(at: Instant, zone: string): CivilDate {
  return dateOfNumber(Math.floor(toLocal(at, zone) / dayMs));
}

/** Feeding day by feeding day, the days on which the clock changed having 23 or 25 hours. */
export interface FeedingDaySpan {
  readonly day: CivilDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly hours: number;
}

/**
 * The feeding day to which an instant belongs: it begins at `startHour` local
 * time and is named after the civil day on which it begins.
 *
 * @example feedingDayOf(Date.parse("2025-07-02T03:00Z"), "UTC", 6) // "2025-07-01"
 */
export function feedingDayOf(at: Instant, zone: string, startHour: number): CivilDate {
  let day = Math.floor(toLocal(at, zone) / dayMs);
  while (at < startOf(day, zone, startHour)) day--;
  while (at >= startOf(day + 1, zone, startHour)) day++;
  return dateOfNumber(day);
}

/**
 * Begin, end and length of one feeding day. Where the start hour does not exist
 * on a day (clocks put forward over it) the day begins at the change; where it
 * happens twice, at the first of the two.
 *
 * @example feedingDaySpan("2025-03-29", "Europe/Berlin", 6).hours // 23: the clock change lies inside
 */
export function feedingDaySpan(day: CivilDate, zone: string, startHour: number): FeedingDaySpan {
  const n = numberOfDate(day);
  const from = startOf(n, zone, startHour);
  const to = startOf(n + 1, zone, startHour);
  return { day, from, to, hours: (to - from) / hourMs };
}

/** Every feeding day that has a moment in `[from, to]`, in order. */
export function feedingDays(
  from: Instant,
  to: Instant,
  zone: string,
  startHour: number,
): FeedingDaySpan[] {
  if (!(from <= to)) return [];
  const first = numberOfDate(feedingDayOf(from, zone, startHour));
  const last = numberOfDate(feedingDayOf(to, zone, startHour));
  const days: FeedingDaySpan[] = [];
  for (let n = first; n <= last; n++) {
    const span = feedingDaySpan(dateOfNumber(n), zone, startHour);
    if (span.hours > 0) days.push(span);
  }
  return days;
}

/** Local noon of a civil day: the instant from which ages are counted. */
export function localNoon(day: CivilDate, zone: string): Instant {
  return localInstant(numberOfDate(day) * dayMs + dayMs / 2, zone);
}

/**
 * Age in days, not whole days: (instant - local noon of the birth date) / 24 h.
 *
 * @example ageInDays(Date.parse("2025-07-11T18:00Z"), "2025-07-01", "UTC") // 10.25
 */
export function ageInDays(at: Instant, birthDate: CivilDate, zone: string): number {
  return (at - localNoon(birthDate, zone)) / dayMs;
}

/**
 * A local time as an instant, moved past a forward change; the first of a doubled one.
 *
 * @example localInstant(Date.UTC(2025, 0, 1, 12), "Europe/Berlin") // Date.UTC(2025, 0, 1, 11)
 */
export function localInstant(localMs: number, zone: string): Instant {
  const reading = readLocal(localMs, zone);
  if (reading.kind === "happens twice") return reading.first;
  if (reading.kind === "instant") return reading.at;
  return changeBefore(reading.at, zone);
}

/**
 * Days since 1970-01-01 of a civil date.
 *
 * @example numberOfDate("2025-01-01") // 20089
 */
export function numberOfDate(day: CivilDate): number {
  let number = dateNumbers.get(day);
  if (number === undefined) {
    if (dateNumbers.size > 100_000) dateNumbers.clear();
    const [year, month, date] = [day.slice(0, 4), day.slice(5, 7), day.slice(8, 10)];
    number = Math.floor(Date.UTC(+year, +month - 1, +date) / dayMs);
    dateNumbers.set(day, number);
  }
  return number;
}
const dateNumbers = new Map<CivilDate, number>();

/**
 * Whether a text is a civil date that exists, written YYYY-MM-DD.
 *
 * @example isCivilDate("2026-02-30") // false
 */
export function isCivilDate(text: string): text is CivilDate {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && dateOfNumber(numberOfDate(text)) === text;
}

/** The civil date of a count of days since 1970-01-01. */
export function dateOfNumber(n: number): CivilDate {
  let text = dateTexts.get(n);
  if (text === undefined) {
    if (dateTexts.size > 100_000) dateTexts.clear();
    text = new Date(n * dayMs).toISOString().slice(0, 10);
    dateTexts.set(n, text);
  }
  return text;
}
const dateTexts = new Map<number, CivilDate>();

/** The civil date `n` days later. @example addDays("2025-02-28", 1) // "2025-03-01" */
export function addDays(day: CivilDate, n: number): CivilDate {
  return dateOfNumber(numberOfDate(day) + n);
}

/** Whole civil days from one date to another. @example daysBetween("2025-02-28", "2025-03-01") // 1 */
export function daysBetween(from: CivilDate, to: CivilDate): number {
  return numberOfDate(to) - numberOfDate(from);
}

/** Day of the week, 1 Monday to 7 Sunday. @example weekdayOf("2025-05-10") // 6 */
export function weekdayOf(day: CivilDate): number {
  // Day 0, 1 January 1970, was a Thursday.
  return ((((numberOfDate(day) + 3) % 7) + 7) % 7) + 1;
}

/** When a feeding day begins: asked for with every row, so that each is worked out once. */
function startOf(day: number, zone: string, startHour: number): Instant {
  if (starts?.zone !== zone || starts.startHour !== startHour || starts.of.size > 100_000)
    starts = { zone, startHour, of: new Map() };
  let start = starts.of.get(day);
  if (start === undefined) {
    start = localInstant(day * dayMs + startHour * hourMs, zone);
    starts.of.set(day, start);
  }
  return start;
}
let starts: {
  readonly zone: string;
  readonly startHour: number;
  readonly of: Map<number, Instant>;
} | null = null;

/** The forward change that swallowed a local time: the last change not after `at`. */
function changeBefore(at: Instant, zone: string): Instant {
  const clock = zoneClock(zone);
  let low = at - dayMs;
  let high = at;
  const offset = clock.offsetAt(high);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (clock.offsetAt(middle) === offset) high = middle;
    else low = middle;
  }
  return high;
}
