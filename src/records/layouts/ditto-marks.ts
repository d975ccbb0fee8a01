import { notice } from "../../core/notice.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { withCell } from "./changed-cells.js";

const marks = new Set([
  '"',
  '""',
  "''",
  "〃",
  "″",
  "”",
  "“",
  "„",
  "´´",
  '-"-',
  '– " –',
  "-''-",
  '- " -',
  "do",
  "do.",
  "ditto",
  "dto",
  "dto.",
  "idem",
]);

const begins = new Set([..."di"].map((letter) => letter.charCodeAt(0)));

/** Whether a cell says "as above". @example isDitto("dto.") // true */
export function isDitto(cell: string): boolean {
  if (cell === "" || cell.length > 7) return false;
  // Nearly every cell begins with a digit or a letter that no mark begins with.
  const first = cell.charCodeAt(0) | 32;
  if ((first >= 48 && first <= 57) || (first >= 97 && first <= 122 && !begins.has(first)))
    return false;
  return marks.has(cell.trim().toLowerCase());
}

/**
 * Reads ditto marks as what stands above them in the same column. A row with
 * one that has nothing above it cannot be read, and is marked to be set aside.
 */
export function readDittoMarks(raw: RawTable): RawTable {
  let count = 0;
  let found = false;
  let before: RawRow | null = null;
  const rows = raw.rows.map((row) => {
    if (row.broken !== undefined) return row;
    let read = row;
    for (let i = 0; i < row.cells.length; i++) {
      if (!isDitto(row.cells[i]!)) continue;
      found = true;
      const above = before?.cells[i] ?? "";
      if (above.trim() === "" || isDitto(above))
        read = {
          ...read,
          fault: { index: i, reason: "records-ditto-alone", todo: "suggest-fill-cell" },
        };
      else {
        read = withCell(read, i, above);
        count++;
      }
    }
    before = read;
    return read;
  });
  if (!found) return raw;
  const told = notice("records-ditto-marks", "info", { count }, { file: raw.file });
  return { ...raw, rows, notices: [...raw.notices, told] };
}
