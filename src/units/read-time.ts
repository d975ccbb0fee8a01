import {
  type CivilDate,
  type LocalReading,
  numberOfDate,
  readLocal,
  toLocal,
  weekdayOf,
} from "./calendar.js";
import { dayMs } from "./day-ms.js";
import { hourMs } from "./hour-ms.js";
import { minuteMs } from "./minute-ms.js";
import type { Instant } from "./zone.js";

export type DateStyle = "year-month-day" | "day-month-year" | "month-day-year";

/** What became of a text that should be a time. Nothing is guessed. */
export type TimeReading =
  | { readonly kind: "instant"; readonly at: Instant; readonly dateOnly: boolean }
  | { readonly kind: "does not exist" }
  | { readonly kind: "happens twice"; readonly first: Instant; readonly second: Instant }
  | { readonly kind: "not a time" }
  /** Reads as a date in another style only, e.g. 25/04/2025 where the month stands first. */
  | { readonly kind: "other date style" };

/** What became of a text that should be a date. */
export type DateReading =
  | { readonly kind: "date"; readonly day: CivilDate }
  | { readonly kind: "not a date" }
  | { readonly kind: "other date style" };

/**
 * Reads a time: a date in the study's style or ISO order, then optionally a
 * clock time (24 h, or with am/pm; 24:00 ends a day), seconds, and an offset. Without an offset
 * the time is local to `zone`; one that does not exist there or happens twice
 * is said to be so. A date alone is read as local noon and marked `dateOnly`.
 *
 * @example readTime("2025-07-01 06:10", "UTC", "year-month-day") // { kind: "instant", at: 1751350200000, dateOnly: false }
 * @example readTime("2025-03-30 02:30", "Europe/Berlin", "year-month-day") // { kind: "does not exist" }
 */
export function readTime(text: string, zone: string, style: DateStyle): TimeReading {
  const quick = isoMinute(text);
  if (quick !== null) return asTime(readLocal(quick, zone), false);
  const { weekday, rest } = withoutWeekday(text.trim());
  const m = wholeTime.exec(withColon(rest, style));
  if (m === null) return { kind: "not a time" };
  const date = onWeekday(readDate(m[1]!, style), weekday);
  if (date.kind === "other date style") return date;
  if (date.kind !== "date") return { kind: "not a time" };
  const midnight = numberOfDate(date.day) * dayMs;
  if (m[2] === undefined) return asTime(readLocal(midnight + dayMs / 2, zone), true);
  const clock = clockMs(m[2], m[3], m[4], m[5], m[6]);
  if (clock === null) return { kind: "not a time" };
  if (m[7] === undefined) return asTime(readLocal(midnight + clock, zone), false);
  const offset = offsetMs(m[7]);
  if (offset === null) return { kind: "not a time" };
  const at = midnight + clock - offset;
  // "06:30-07:00" is also how people write from and to: an offset only where a machine
  // wrote it (T, seconds), or where it is the zone's own.
  const fromTo = /^-\d\d:\d\d$/.test(m[7]) && m[4] === undefined && !/T/i.test(rest);
  if (fromTo && toLocal(at, zone) - at !== offset) return { kind: "not a time" };
  return { kind: "instant", at, dateOnly: false };
}

/**
 * Reads a civil date in the study's style; ISO order (2025-07-01) is always
 * understood, and so is a month by its English name (1 Jul 2025).
 *
 * @example readDate("01.07.2025", "day-month-year") // { kind: "date", day: "2025-07-01" }
 */
export function readDate(text: string, style: DateStyle): DateReading {
  const { weekday, rest } = withoutWeekday(text.trim());
  return onWeekday(readBareDate(rest, style), weekday);
}

function readBareDate(t: string, style: DateStyle): DateReading {
  const iso = isoDate.exec(t);
  if (iso !== null) return dateOf(+iso[1]!, +iso[2]!, +iso[3]!) ?? { kind: "not a date" };
  const named = namedMonth.exec(t);
  if (named !== null) {
    const month = monthNumber(named[2] ?? named[3]!);
    const day = +(named[1] ?? named[4]!);
    return (month > 0 ? dateOf(fullYear(named[5]!), month, day) : null) ?? { kind: "not a date" };
  }
  const m = numericDate.exec(t);
  if (m === null) return { kind: "not a date" };
  const year = fullYear(m[3]!);
  const dayFirst = dateOf(year, +m[2]!, +m[1]!);
  const monthFirst = dateOf(year, +m[1]!, +m[2]!);
  const mine =
    style === "month-day-year" ? monthFirst : style === "day-month-year" ? dayFirst : null;
  if (mine !== null) return mine;
  return dayFirst === null && monthFirst === null
    ? { kind: "not a date" }
    : { kind: "other date style" };
}

const isoAtStart = /^\d{4}-\d\d-\d\d(?:[\sT]|$)/;

/** Which order a date is written in, where only one order makes a date of it; else null. */
export function dateStyleOf(text: string): DateStyle | "either" | null {
  if (isoAtStart.test(text)) return "year-month-day";
  const t = withoutWeekday(text.trim()).rest.split(/[\sT]/)[0] ?? "";
  if (isoDate.test(t)) return "year-month-day";
  const m = numericDate.exec(t);
  if (m === null) return null;
  const year = fullYear(m[3]!);
  const dayFirst = dateOf(year, +m[2]!, +m[1]!) !== null;
  const monthFirst = dateOf(year, +m[1]!, +m[2]!) !== null;
  if (dayFirst && monthFirst) return "either";
  return dayFirst ? "day-month-year" : monthFirst ? "month-day-year" : null;
}

/**
 * The same date with day and month exchanged, or null where that is no date
 * or the same date. @example exchangeDayMonth("2025-04-07") // "2025-07-04"
 */
export function exchangeDayMonth(day: CivilDate): CivilDate | null {
  const d = dateOf(+day.slice(0, 4), +day.slice(8, 10), +day.slice(5, 7));
  return d === null || d.day === day ? null : d.day;
}

const weekdayAhead =
  /^(?:(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs|ur)?(?:day)?|(mo|di|mi|do|fr|sa|so)(?:ntag|enstag|ttwoch|nnerstag|eitag|mstag|nntag)?)(?:[.,]\s*|\s+)(?=[\dA-Za-z])/i;

/**
 * The day of the week that a date begins with (1 Monday to 7 Sunday, English or
 * German), and the date without it. @example withoutWeekday("Sat 10 May 2025").rest // "10 May 2025"
 */
export function withoutWeekday(text: string): {
  readonly weekday: number | null;
  readonly rest: string;
} {
  const first = text.charCodeAt(0);
  if (first >= 48 && first <= 57) return { weekday: null, rest: text };
  const m = weekdayAhead.exec(text);
  if (m === null) return { weekday: null, rest: text };
  const name = (m[1] ?? m[2])!.toLowerCase();
  const at = ["mon tue wed thu fri sat sun", "mo di mi do fr sa so"].map((names) =>
    names.split(" ").indexOf(name),
  );
  return { weekday: 1 + Math.max(...at), rest: text.slice(m[0].length) };
}

/** A date that falls on another day of the week than it says is no date: one of the two is wrong. */
function onWeekday(read: DateReading, weekday: number | null): DateReading {
  if (weekday === null || read.kind !== "date") return read;
  return weekdayOf(read.day) === weekday ? read : { kind: "not a date" };
}

const isoDate = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/;
const numericDate = /^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})\.?$/;
const namedMonth =
  /^(?:(\d{1,2})(?:st|nd|rd|th)?(?: of)?[-. ]+([A-Za-z]{3,9})|([A-Za-z]{3,9})[. ]+(\d{1,2})(?:st|nd|rd|th)?),?[-. ]+(\d{4}|\d{2})$/;
const wholeTime =
  /^(.*?\d)(?:(?:\s*T\s*|,?\s+)(\d{1,2})(?:[:.h](\d{2})(?:[:.](\d{2})(?:[.,](\d{1,9}))?)?)?\s*(?:h|hrs|uhr)?\s*([ap]\.?m\.?)?\s*(Z|z|UTC|[+-]\d{2}:?\d{2}|[+-]\d{2})?(?:\[[^\]]*\])?)?$/i;

const fourDigits =
  /^(.*\d)(?:\s*T\s*|,?\s+)(\d|[01]\d|2[0-4])([0-5]\d)(\s*(?:h|hrs)?\s*(?:Z|UTC|[+-]\d{2}:?\d{2})?)$/i;

/** 0605 (605 where a spreadsheet dropped its zero) behind a date that is whole without it. */
function withColon(text: string, style: DateStyle): string {
  const m = fourDigits.exec(text);
  if (m === null || readDate(m[1]!, style).kind !== "date") return text;
  return `${m[1]} ${m[2]}:${m[3]}${m[4]}`;
}

function asTime(reading: LocalReading, dateOnly: boolean): TimeReading {
  if (reading.kind === "instant") return { kind: "instant", at: reading.at, dateOnly };
  if (reading.kind === "happens twice") return reading;
  return { kind: "does not exist" };
}

/** `YYYY-MM-DD[ T]HH:MM` and nothing else, by character: the common case, fast. */
function isoMinute(t: string): number | null {
  if (t.length !== 16) return null;
  const separator = t.charCodeAt(10);
  if (t.charCodeAt(4) !== 45 || t.charCodeAt(7) !== 45 || t.charCodeAt(13) !== 58) return null;
  if (separator !== 32 && separator !== 84) return null;
  const year = digits(t, 0, 4);
  const month = digits(t, 5, 7);
  const day = digits(t, 8, 10);
  const hour = digits(t, 11, 13);
  const minute = digits(t, 14, 16);
  if (year < 0 || month < 0 || day < 0 || hour < 0 || hour > 23 || minute < 0 || minute > 59)
    return null;
  const date = dateOf(year, month, day);
  return date === null ? null : numberOfDate(date.day) * dayMs + hour * hourMs + minute * minuteMs;
}

function digits(t: string, from: number, to: number): number {
  let value = 0;
  for (let i = from; i < to; i++) {
    const c = t.charCodeAt(i) - 48;
    if (c < 0 || c > 9) return -1;
    value = value * 10 + c;
  }
  return value;
}

function clockMs(
  hourText: string,
  minuteText: string | undefined,
  secondText: string | undefined,
  fractionText: string | undefined,
  half: string | undefined,
): number | null {
  let hour = +hourText;
  const minute = +(minuteText ?? 0);
  const second = +(secondText ?? 0);
  // An hour alone is a clock time only with am or pm: "2025-07-01 14" may be anything.
  if (minuteText === undefined && half === undefined) return null;
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return null;
    hour = (hour % 12) + (half.toLowerCase().startsWith("p") ? 12 : 0);
  }
  // ISO 8601 writes the end of a day as 24:00.
  const endOfDay = hour === 24 && half === undefined && minute === 0 && second === 0;
  if ((hour > 23 && !endOfDay) || minute > 59 || second > 59) return null;
  const fraction = fractionText === undefined ? 0 : Math.round(+`0.${fractionText}` * 1000);
  return hour * hourMs + minute * minuteMs + second * 1000 + fraction;
}

function offsetMs(text: string): number | null {
  if (/^(z|utc)$/i.test(text)) return 0;
  const m = /^([+-])(\d{2}):?(\d{2})?$/.exec(text);
  // Offsets in use are whole quarters of an hour.
  if (m === null || +m[2]! > 18 || +(m[3] ?? 0) % 15 !== 0 || +(m[3] ?? 0) > 45) return null;
  return (m[1] === "-" ? -1 : 1) * (+m[2]! * 60 + +(m[3] ?? 0)) * minuteMs;
}

const monthLengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function dateOf(year: number, month: number, day: number): { kind: "date"; day: CivilDate } | null {
  if (year < 1900 || year > 2199 || month < 1 || month > 12 || day < 1) return null;
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  if (day > monthLengths[month - 1]! + (leap ? 1 : 0)) return null;
  const two = (n: number) => (n < 10 ? `0${n}` : `${n}`);
  return { kind: "date", day: `${year}-${two(month)}-${two(day)}` };
}

/** Two-digit years: 00-69 are this century, 70-99 the last. */
function fullYear(text: string): number {
  return text.length === 4 ? +text : +text < 70 ? 2000 + +text : 1900 + +text;
}

const monthNames = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");
const longMonths =
  "january february march april may june july august september october november december".split(
    " ",
  );
/** 1 to 12 by English name, long or short; 0 for no month. */
export function monthNumber(text: string): number {
  const t = text.toLowerCase();
  const short = t === "sept" ? 8 : monthNames.indexOf(t);
  return 1 + (short >= 0 ? short : longMonths.indexOf(t));
}
