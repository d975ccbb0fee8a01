import { numberOfDate } from "../../units/calendar.js";
import { type DateStyle, readDate } from "../../units/read-time.js";
import type { RawRow } from "../raw-table.js";
import type { Rows } from "../rows.js";
import { textAt } from "./changed-cells.js";
import { clockOf } from "./clock-of.js";
import type { TimedEntry } from "./day-runs.js";

/** Where date, clock time and animal stand; date and time may be one column, the animal none (-1). */
export interface TimePlaces {
  readonly time: number;
  readonly date: number;
  readonly animal: number;
  /** Where it is about a group, and of what diet or kind of sign. */
  readonly group?: number;
  readonly kind?: number;
  readonly style: DateStyle;
}

const clockAtEnd =
  /[\sT](\d{1,2}(?:[:.h]\d\d(?::\d\d)?|\d\d)?\s*(?:[ap]\.?m?\.?)?)(Z|[+-]\d\d:?\d\d)?$/i;

/** The day of a cell that holds day and clock time. @example dayTextOf("5/3/25 6:10") // "5/3/25" */
export const dayTextOf = (text: string) => text.replace(clockAtEnd, "").replace(/[,\s]+$/, "");

/**
 * Day and minute of every row in which both can be read. Rows that say am or pm
 * or have an offset can be left out, where the question is which half of the day is meant.
 */
export function timedEntries(
  rows: Rows<RawRow>,
  places: TimePlaces,
  withHalf: "read" | "left out",
): TimedEntry[] {
  const entries: TimedEntry[] = [];
  rows.forEach((row, i) => {
    if (row.broken !== undefined) return;
    const text = textAt(row, places.time);
    const one = places.time === places.date;
    const found = one ? clockAtEnd.exec(text) : null;
    const clockText = one ? (found?.[1] ?? "") : text;
    const day = one ? dayTextOf(text) : textAt(row, places.date);
    // A time with its offset from UTC says which half of the day it is.
    const told = /[ap]\.?m/i.test(clockText) || found?.[2] !== undefined;
    const leave = withHalf === "left out" && told;
    const clock = leave ? null : clockOf(clockText);
    if (clock === null || day === "") return;
    const minute = Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
    const named = (column = -1) => (column < 0 ? "" : textAt(row, column).toLowerCase());
    const whose = named(places.animal) || named(places.group);
    const kind = named(places.kind);
    const read = readDate(day, places.style);
    const date = read.kind === "date" ? numberOfDate(read.day) : day;
    entries.push({ whose, kind, day: date, minute, row: i });
  });
  return entries;
}
