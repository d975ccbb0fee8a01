import { dayMs } from "../units/day-ms.js";
import { ASK, dayOfBucket } from "./day-of-bucket.js";

/** The feeding days of a zone, by quarter of an hour, and the dates met so far. */
export interface PlainClock {
  readonly days: ReturnType<typeof dayOfBucket>;
  /** Days since 1970-01-01 by packed year, month and day; ASK for a date that is none. */
  readonly dates: Map<number, number>;
}

export function plainClock(zone: string, startHour: number): PlainClock {
  return { days: dayOfBucket(zone, startHour), dates: new Map() };
}

/**
 * The feeding day of a time written plainly in bytes (`YYYY-MM-DD HH:MM`, with
 * `T` or a blank, with or without seconds, local or with `Z`), as a count of
 * days; ASK for anything else.
 */
export function plainDay(b: Uint8Array, from: number, to: number, clock: PlainClock): number {
  const length = to - from;
  if (length < 16 || length > 20 || length === 18) return ASK;
  if (b[from + 4] !== 45 || b[from + 7] !== 45 || b[from + 13] !== 58) return ASK;
  const gap = b[from + 10]!;
  if (gap !== 32 && gap !== 84) return ASK;
  const year = four(b, from);
  const month = two(b, from + 5);
  const date = two(b, from + 8);
  const hour = two(b, from + 11);
  const minute = two(b, from + 14);
  if (year < 0 || month < 0 || date < 0 || hour < 0 || hour > 23 || minute < 0 || minute > 59)
    return ASK;
  if (length >= 19) {
    const second = two(b, from + 17);
    if (b[from + 16] !== 58 || second < 0 || second > 59) return ASK;
  }
  const utc = length === 17 || length === 20;
  if (utc && b[to - 1] !== 90) return ASK;
  const key = (year * 16 + month) * 32 + date;
  let day = clock.dates.get(key);
  if (day === undefined) {
    day = dayOf(year, month, date);
    if (clock.dates.size > 100_000) clock.dates.clear();
    clock.dates.set(key, day);
  }
  if (day === ASK) return ASK;
  const bucket = day * 96 + hour * 4 + ((minute / 15) | 0);
  return utc ? clock.days.utc(bucket) : clock.days.local(bucket);
}

/** A plain positive number of at most 15 characters, or -1. `mark` is the decimal mark's byte. */
export function plainNumber(b: Uint8Array, from: number, to: number, mark: number): number {
  if (to - from > 15 || to === from) return -1;
  let value = 0;
  let decimals = -1;
  for (let i = from; i < to; i++) {
    const c = b[i]!;
    if (c >= 48 && c <= 57) {
      value = value * 10 + (c - 48);
      if (decimals >= 0) decimals++;
    } else if (c === mark && decimals < 0 && i > from) decimals = 0;
    else return -1;
  }
  // At most 15 digits and a small power of ten: the quotient is the nearest double.
  return decimals > 0 ? value / tens[decimals]! : value;
}

function dayOf(year: number, month: number, date: number): number {
  const ms = Date.UTC(year, month - 1, date);
  const back = new Date(ms);
  const real = back.getUTCMonth() === month - 1 && back.getUTCDate() === date;
  return real && year >= 1970 && year <= 2099 ? ms / dayMs : ASK;
}

const tens = Array.from({ length: 16 }, (_, i) => 10 ** i);

function two(b: Uint8Array, i: number): number {
  const a = b[i]! - 48;
  const c = b[i + 1]! - 48;
  return a >= 0 && a <= 9 && c >= 0 && c <= 9 ? a * 10 + c : -1;
}

function four(b: Uint8Array, i: number): number {
  const a = two(b, i);
  const c = two(b, i + 2);
  return a < 0 || c < 0 ? -1 : a * 100 + c;
}
