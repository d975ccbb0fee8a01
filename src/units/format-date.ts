import { toLocal } from "./calendar.js";
import type { Instant } from "./zone.js";

/** A date for people. @example formatDate("2025-05-02") // "2 May 2025" */
export function formatDate(day: string): string {
  const parts = partsOf(day);
  return parts === null ? day : `${parts.day} ${parts.month} ${parts.year}`;
}

/**
 * The first and last day of a span, naming once what both share.
 *
 * @example formatDays("2025-03-22", "2025-03-27") // "22 to 27 Mar 2025"
 * @example formatDays("2025-03-28", "2025-04-02") // "28 Mar to 2 Apr 2025"
 */
export function formatDays(from: string, to: string): string {
  const first = partsOf(from);
  const last = partsOf(to);
  if (from === to || first === null || last === null)
    return from === to ? formatDate(from) : `${from} to ${to}`;
  const year = first.year === last.year ? "" : ` ${first.year}`;
  const month = first.month === last.month && year === "" ? "" : ` ${first.month}`;
  return `${first.day}${month}${year} to ${formatDate(to)}`;
}

/** An instant in the study's zone. @example formatInstant(0, "UTC") // "1 Jan 1970 00:00" */
export function formatInstant(at: Instant, zone: string): string {
  return wordedDate(localText(at, zone));
}

/** An instant's time of day in the study's zone. @example formatTime(0, "UTC") // "00:00" */
export function formatTime(at: Instant, zone: string): string {
  return localText(at, zone).slice(11);
}

/** An instant as sortable local text, for files. @example localText(0, "UTC") // "1970-01-01 00:00" */
export function localText(at: Instant, zone: string): string {
  return new Date(toLocal(at, zone)).toISOString().slice(0, 16).replace("T", " ");
}

/**
 * Text that is a day, or a day and a time, as files keep them, in words; all
 * other text as it is.
 *
 * @example wordedDate("2025-05-02 06:40") // "2 May 2025 06:40"
 */
export function wordedDate(text: string): string {
  const found = /^(\d{4}-\d{2}-\d{2})(?:[ T](\d{2}:\d{2}))?$/.exec(text);
  if (found === null) return text;
  return found[2] === undefined ? formatDate(found[1]!) : `${formatDate(found[1]!)} ${found[2]}`;
}

/** "2025", or "2024 to 2025". @example formatYears(["2024-05-02", "2025-01-01"]) // "2024 to 2025" */
export function formatYears(days: readonly string[]): string {
  const years = [...new Set(days.map((day) => day.slice(0, 4)))].sort();
  const [first = "no date"] = years;
  return years.length < 2 ? first : `${first} to ${years.at(-1)}`;
}

export const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");

function partsOf(day: string) {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  const month = m === null ? undefined : months[+m[2]! - 1];
  return m === null || month === undefined ? null : { year: m[1]!, month, day: +m[3]! };
}
