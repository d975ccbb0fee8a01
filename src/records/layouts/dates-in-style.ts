import { notice } from "../../core/notice.js";
import { type DateStyle, dateStyleOf, readDate } from "../../units/read-time.js";
import type { RawTable } from "../raw-table.js";
import { changeRows, columnOf, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised } from "./recognised.js";

/** Dates that a file writes in an order of its own are written out year first. */
export function applyDates(raw: RawTable, step: StepOf<"dates">): RawTable {
  const places = step.columns.map((name) => columnOf(raw, name)).filter((i) => i >= 0);
  return changeRows(raw, (row) => {
    let read = row;
    for (const i of places) {
      const text = isoHead(textAt(row, i), step.style);
      if (text !== null) read = withCell(read, i, text);
    }
    return read;
  });
}

function isoHead(text: string, style: DateStyle): string | null {
  const cut = text.search(/[\sT](?=\d{1,2}(?:[:.h]|\d\d\b|\s*[ap]))/i);
  const head = cut < 0 ? text : text.slice(0, cut).replace(/,$/, "");
  const read = readDate(head, style);
  if (read.kind !== "date") return null;
  return cut < 0 ? read.day : `${read.day} ${text.slice(cut + 1).trim()}`;
}

/**
 * Dates of one file in another order than the study's: some can only be that
 * one, none can only be the study's. Dates that may be both are read alike; in
 * a file of nothing else the order of the other files (`hint`) is proposed, and
 * the day first where points stand between (DIN 1355-1; as a rule nobody puts the month
 * first with points).
 */
export function recogniseDates(
  raw: RawTable,
  columns: readonly string[],
  studyStyle: DateStyle,
  hint: DateStyle | null,
): Recognised | null {
  const places = columns.flatMap((name) => {
    const at = columnOf(raw, name);
    return at < 0 ? [] : [{ name, at }];
  });
  const counts = { "year-month-day": 0, "day-month-year": 0, "month-day-year": 0, either: 0 };
  const seen = new Set<string>();
  let pointed = 0;
  for (const row of raw.rows)
    for (const { name, at } of places) {
      const text = row.broken === undefined ? textAt(row, at) : "";
      const style = dateStyleOf(text);
      if (style === null || style === "year-month-day") continue;
      counts[style]++;
      if (/^\D*\d{1,2}\.\d{1,2}\.\d/.test(text)) pointed++;
      seen.add(name);
    }
  const dayFirst = counts["day-month-year"];
  const monthFirst = counts["month-day-year"];
  if (dayFirst > 0 && monthFirst > 0) return null;
  const byMarks = pointed > 0 && pointed === counts.either ? "day-month-year" : null;
  const found =
    dayFirst > 0 ? "day-month-year" : monthFirst > 0 ? "month-day-year" : (hint ?? byMarks);
  // One date in another order than all others is a slip, no style.
  const dates = dayFirst + monthFirst + counts.either;
  if (found === null || dates < 1 || dates < 0.05 * raw.rows.length) return null;
  if (hint === null && dates < 2) return null;
  if (found === studyStyle) return null;
  const style = found;
  return {
    step: { layout: "dates", columns: [...seen], style },
    why: notice("propose-dates", "info", {
      columns: [...seen],
      style,
      count: Math.max(dayFirst, monthFirst),
      either: counts.either,
    }),
  };
}

/** The order in which the dates of a study's files are written, where they agree on one. */
export function orderOfDates(cells: Iterable<string>): DateStyle | null {
  let dayFirst = 0;
  let monthFirst = 0;
  for (const cell of cells) {
    const style = dateStyleOf(cell);
    if (style === "day-month-year") dayFirst++;
    else if (style === "month-day-year") monthFirst++;
  }
  if (dayFirst > 0 && monthFirst > 0) return null;
  return dayFirst > 1 ? "day-month-year" : monthFirst > 1 ? "month-day-year" : null;
}
