import { notice } from "../../core/notice.js";
import { shortened } from "../../core/shortened.js";
import { sizeLimits } from "../../core/size-limits.js";
import { type DateStyle, readDate, withoutWeekday } from "../../units/read-time.js";
import { readHeader } from "../match-headers.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { columnOf, filledCells } from "./changed-cells.js";
import { clockOf } from "./clock-of.js";
import { columnLetters } from "./column-letters.js";
import type { StepOf } from "./layout-step.js";
import { isTotal } from "./total-words.js";

export interface AcrossContext {
  readonly dateStyle: DateStyle;
  /** Column of the file in which the cells begin, counted from 0. */
  readonly firstColumn: number;
}

/**
 * Headings that are days, animals or clock times, each cell below an amount:
 * every such cell becomes a row, with the cells of the other columns beside it.
 * Blank cells and dashes are no rows; rows of totals, columns of totals, and
 * cells under no heading are counted and told.
 */
export function applyAcross(
  raw: RawTable,
  step: StepOf<"across">,
  context: AcrossContext,
): RawTable {
  const keys = raw.header.map((h) => headingKey(h, step, context));
  const date = step.headings === "times" ? columnOf(raw, step.date) : -1;
  const kept = raw.header.flatMap((h, i) =>
    keys[i] === null && i !== date && h.trim() !== "" && !isTotal(h) ? [i] : [],
  );
  const keyName = step.headings === "animals" ? "animal_id" : "at";
  const rows: RawRow[] = [];
  const left: string[] = [];
  const totals: number[] = [];
  const leave = (row: RawRow, i: number) =>
    left.push(
      `${columnLetters(i + context.firstColumn)}${row.line} ${(row.cells[i] ?? "").trim()}`,
    );
  for (const row of raw.rows) {
    if (row.broken !== undefined) {
      rows.push(row);
      continue;
    }
    const label = row.cells.find((cell) => cell.trim() !== "");
    if (label === undefined) continue;
    if (isTotal(label)) {
      totals.push(row.line);
      continue;
    }
    let made = 0;
    for (let i = 0; i < row.cells.length; i++) {
      const cell = (row.cells[i] ?? "").trim();
      if (cell === "" || /^[-–—.]+$/.test(cell)) continue;
      const key = keys[i] ?? null;
      if (key === null) {
        if (i !== date && !kept.includes(i) && !isTotal(raw.header[i] ?? "")) leave(row, i);
        continue;
      }
      const beside = kept.map((k) => row.cells[k] ?? "");
      const day = date < 0 ? "" : (row.cells[date] ?? "").trim();
      rows.push({
        line: row.line,
        cell: `${columnLetters(i + context.firstColumn)}${row.line}`,
        cells: [...beside, date < 0 ? key : `${day} ${key}`.trim(), cell],
        written: [...beside, date < 0 ? raw.header[i]! : `${day} ${raw.header[i]!}`.trim(), cell],
      });
      made++;
    }
    // A note beside no amount would vanish with its row.
    if (made === 0 && filledCells(row) > 1)
      for (const k of kept.slice(1)) if ((row.cells[k] ?? "").trim() !== "") leave(row, k);
  }
  const place = { file: raw.file };
  const notices = [...raw.notices];
  const skipped = raw.header.filter((h) => isTotal(h));
  if (totals.length > 0 || skipped.length > 0)
    notices.push(
      notice(
        "records-totals-left-out",
        "info",
        { rows: totals.length, lines: totals.slice(0, 12), columns: skipped },
        place,
      ),
    );
  if (left.length > 0)
    notices.push(
      notice(
        "records-cells-left",
        "caution",
        {
          count: left.length,
          cells: left.slice(0, 12).map((c) => shortened(c, sizeLimits.lineLetters)),
        },
        place,
      ),
    );
  return {
    ...raw,
    header: [...kept.map((i) => raw.header[i]!), keyName, step.amount],
    rows,
    notices,
  };
}

/** What a heading stands for, as it is read: a date, an animal, a clock time; null for neither. */
export function headingKey(
  heading: string,
  step: Omit<StepOf<"across">, "layout" | "amount">,
  context: Pick<AcrossContext, "dateStyle">,
): string | null {
  const text = heading.trim();
  if (text === "") return null;
  if (step.headings === "animals") {
    // What is not named as standing beside them is an animal: a new one must not be lost.
    const beside = (step.beside ?? []).some((b) => readHeader(b).plain === readHeader(text).plain);
    return beside || isTotal(text) ? null : text;
  }
  if (step.headings === "times") return clockOf(text);
  const alone = /^(\d{1,2})\.?$/.exec(text)?.[1];
  const dated =
    step.month === undefined || step.year === undefined || alone === undefined
      ? text
      : `${step.year}-${String(step.month).padStart(2, "0")}-${alone.padStart(2, "0")}`;
  const day = dayOf(dated, step.style ?? context.dateStyle, step.year);
  return day === null || day.length > 10 || step.clock === undefined ? day : `${day} ${step.clock}`;
}

/** A day, with or without year and weekday, and a clock time behind it where one stands. */
function dayOf(text: string, style: DateStyle, year: number | undefined): string | null {
  const bare = withoutWeekday(text).rest;
  const whole = splitDay(text, style);
  if (whole !== null) return whole;
  if (year === undefined) return null;
  const [, head = bare, tail = ""] =
    /^(\d{1,2}[-/.]\d{1,2}\.?|\d{1,2}\.? [a-z]{3,9}\.?|[a-z]{3,9}\.? \d{1,2}|\d{1,2}-[a-z]{3,9})(?:\s+(.*))?$/i.exec(
      bare,
    ) ?? [];
  const mark = /[-/.]/.exec(head)?.[0] ?? " ";
  const dated = /[a-z]/i.test(head)
    ? `${head.replace(/\./g, "").replace("-", " ")} ${year}`
    : style === "year-month-day"
      ? `${year}${mark}${head.replace(/\.$/, "")}`
      : `${head.replace(/\.$/, "")}${mark}${year}`;
  return splitDay(`${dated} ${tail}`.trim(), style);
}

function splitDay(text: string, style: DateStyle): string | null {
  const day = readDate(text, style);
  if (day.kind === "date") return day.day;
  const at = text.lastIndexOf(" ");
  if (at < 0) return null;
  for (const cut of [at, text.lastIndexOf(" ", at - 1)]) {
    if (cut < 0) continue;
    const head = readDate(text.slice(0, cut).replace(/,$/, ""), style);
    const clock = clockOf(text.slice(cut + 1));
    if (head.kind === "date" && clock !== null) return `${head.day} ${clock}`;
  }
  return null;
}
