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

/** When a row is about, as far as its cells say. */
export interface RowTime {
  readonly day: string | number;
  readonly minute: number;
  /** It says which half of the day it is: am or pm, or an offset from UTC. */
  readonly told: boolean;
}

/** Reads the time of rows; each date and each clock time of the file once. */
export function rowTimes({ time, date, style }: TimePlaces): (row: RawRow) => RowTime | null {
  const dayOf = remembering((text: string) => {
    const read = readDate(text, style);
    return read.kind === "date" ? numberOfDate(read.day) : text;
  });
  const minuteOf = remembering((text: string) => {
    const clock = clockOf(text);
    return clock === null ? null : Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
  });
  const read = (day: string, clock: string, offset: boolean): RowTime | null => {
    const minute = minuteOf(clock);
    if (minute === null || day === "") return null;
    return { day: dayOf(day), minute, told: offset || /[ap]\.?m/i.test(clock) };
  };
  return (row) => {
    if (row.broken !== undefined) return null;
    const text = textAt(row, time);
    if (time !== date) return read(textAt(row, date), text, false);
    // 2025-03-06 07:30, as most files have it.
    if (plainTime.test(text)) return read(text.slice(0, 10), text.slice(11), false);
    const found = clockAtEnd.exec(text);
    return read(dayTextOf(text), found?.[1] ?? "", found?.[2] !== undefined);
  };
}

const plainTime = /^\d{4}-\d\d-\d\d[ T]\d\d:\d\d$/;

/** The same, worked out once for each text, of the first of which there may be thousands. */
function remembering<T>(work: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const found = work(text);
    if (known.size < 20_000) known.set(text, found);
    return found;
  };
}

/** Whose row it is and of what, in small letters. */
export function rowNames({ animal, group, kind }: TimePlaces) {
  const named = (row: RawRow, column = -1) => (column < 0 ? "" : textAt(row, column).toLowerCase());
  return (row: RawRow) => ({
    whose: named(row, animal) || named(row, group),
    kind: named(row, kind),
  });
}

/**
 * Day and minute of every row in which both can be read. Rows that say am or pm
 * or have an offset can be left out, where the question is which half of the day is meant.
 */
export function timedEntries(
  rows: Rows<RawRow>,
  places: TimePlaces,
  withHalf: "read" | "left out",
): TimedEntry[] {
  const [timeOf, namesOf] = [rowTimes(places), rowNames(places)];
  const entries: TimedEntry[] = [];
  rows.forEach((row, i) => {
    const time = timeOf(row);
    if (time === null || (withHalf === "left out" && time.told)) return;
    const { whose, kind } = namesOf(row);
    entries.push({ whose, kind, day: time.day, minute: time.minute, row: i });
  });
  return entries;
}
