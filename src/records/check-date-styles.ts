import { type Notice, notice } from "../core/notice.js";
import { type DateStyle, dateStyleOf } from "../units/read-time.js";
import { columnNamed } from "./columns.js";
import type { DraftRow } from "./draft-row.js";
import { loseCell } from "./lose-cell.js";
import type { Rows } from "./rows.js";
import type { StudySettings, TableName } from "./study.js";

/** A file's rows with where its dates stand. */
export interface DatedFile {
  readonly table: TableName;
  readonly file: string;
  readonly rows: Rows<DraftRow>;
  readonly dateColumns: readonly { readonly name: string; readonly index: number }[];
}

/**
 * Looks at all dates of a file together. Where several of them can only be in
 * another style than the study's and none can only be in the study's, dates
 * that may be either (04/05/2025) must not be read by the study's style: those
 * rows are set aside until a person has decided.
 */
export function checkDateStyles(
  files: readonly DatedFile[],
  settings: StudySettings,
  notices: Notice[],
): void {
  for (const file of files) {
    for (const column of file.dateColumns) checkColumn(file, column, settings.dateStyle, notices);
  }
}

function checkColumn(
  file: DatedFile,
  column: { readonly name: string; readonly index: number },
  style: DateStyle,
  notices: Notice[],
): void {
  const counts = { "year-month-day": 0, "day-month-year": 0, "month-day-year": 0, either: 0 };
  const styles = file.rows.map((row) => {
    const found = dateStyleOf(row.cellRead(column.index));
    if (found !== null) counts[found]++;
    return found;
  });
  const other = style === "day-month-year" ? "month-day-year" : "day-month-year";
  const against = counts[other];
  const numeric =
    against + counts.either + counts[style === "year-month-day" ? "month-day-year" : style];
  if (against < Math.max(2, 0.05 * numeric)) return;
  if (style !== "year-month-day" && counts[style] > 0) return;
  const place = { file: file.file, table: file.table, column: column.name };
  const parameters = { count: against, other, style };
  notices.push(notice("records-date-style-of-file", "problem", parameters, place));
  if (style === "year-month-day") return;
  file.rows.forEach((row, i) => {
    if (styles[i] !== "either" || row.fault !== null) return;
    if (!columnNamed(file.table, column.name).required) {
      loseCell(row, column.name, notice("records-date-style-doubtful", "problem", parameters));
      return;
    }
    const here = { ...place, line: row.line };
    row.fault = {
      column: column.name,
      value: row.raw[column.index] ?? null,
      reason: notice("records-date-style-doubtful", "problem", parameters, here),
      suggestion: notice("suggest-date-style", "info", parameters, here),
    };
  });
}
