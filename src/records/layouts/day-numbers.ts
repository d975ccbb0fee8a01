import { notice } from "../../core/notice.js";
import { serialText } from "../open-workbook.js";
import type { RawTable } from "../raw-table.js";
import { changeRows, columnOf, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised } from "./recognised.js";

/** Days (and clock times) that a spreadsheet wrote as its own numbers become dates again. */
export function applyDayNumbers(raw: RawTable, step: StepOf<"day numbers">): RawTable {
  const places = step.columns.map((name) => columnOf(raw, name)).filter((i) => i >= 0);
  // Where other cells have a part of a day, a whole number is midnight.
  const timed = places.filter((i) => raw.rows.some((row) => /^\d{5}[.,]\d/.test(textAt(row, i))));
  return changeRows(raw, (row) => {
    let read = row;
    for (const i of places) {
      const day = dayNumberText(textAt(row, i), step.from);
      const text = day?.length === 10 && timed.includes(i) ? `${day} 00:00` : day;
      if (text !== null) read = withCell(read, i, text);
    }
    return read;
  });
}

/**
 * A day number as a date, with its clock time where there is one; below 1 as a
 * clock time. Null for anything else. @example dayNumberText("45779.25", 1900) // "2025-05-02 06:00"
 */
export function dayNumberText(text: string, from: 1900 | 1904): string | null {
  if (!/^\d{0,5}(?:[.,]\d+)?$/.test(text) || text === "") return null;
  const value = Number(text.replace(",", "."));
  const day = value >= 20_000 && value < 80_000;
  if (!day && !(value >= 0 && value < 1 && /[.,]/.test(text))) return null;
  return serialText(value, from === 1904 && day, !Number.isInteger(value));
}

/** Whole or broken numbers where days belong: a spreadsheet's own count of days. */
export function recogniseDayNumbers(raw: RawTable, headings: readonly string[]): Recognised | null {
  const columns = [...new Set(headings)].flatMap((name) => {
    const at = columnOf(raw, name);
    if (at < 0) return [];
    const cells = raw.rows.slice(0, 500).flatMap((row) => textAt(row, at) || []);
    const numbers = cells.filter((cell) => dayNumberText(cell, 1900) !== null);
    return cells.length > 0 && numbers.length > 0.5 * cells.length ? [{ name, numbers }] : [];
  });
  const example = columns[0]?.numbers.find((cell) => Number(cell.replace(",", ".")) >= 1);
  if (example === undefined) return null;
  // The two counts lie four years apart; years to come are no records.
  const from = dayNumberText(example, 1900)! < "2005" ? 1904 : 1900;
  return {
    step: { layout: "day numbers", columns: columns.map((c) => c.name), from },
    why: notice("propose-day-numbers", "info", {
      columns: columns.map((c) => c.name),
      number: example,
      date: dayNumberText(example, from),
      from: String(from),
    }),
  };
}
