import { notice } from "../../core/notice.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { ownRow } from "../text-row.js";
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

/** Whether a cell says "as above". @example isDitto("dto.") // true */
export function isDitto(cell: string): boolean {
  return (
    cell !== "" && cell.length <= 7 && maybeDitto(cell, 0) && marks.has(cell.trim().toLowerCase())
  );
}

/**
 * Whether what begins at a place of a text may say "as above", by its first two
 * characters: nearly every cell begins with a digit, or letters that no mark begins with.
 */
export function maybeDitto(text: string, at: number): boolean {
  const first = text.charCodeAt(at) | 32;
  if (first >= 48 && first <= 57) return false;
  if (first < 97 || first > 122) return true;
  const second = text.charCodeAt(at + 1) | 32;
  // do, ditto, dto; idem.
  if (first === 100) return second === 111 || second === 105 || second === 116;
  return first === 105 && second === 100;
}

/**
 * Reads ditto marks as what stands above them in the same column. A row with
 * one that has nothing above it cannot be read, and is marked to be set aside.
 */
export function readDittoMarks(raw: RawTable): RawTable {
  const marked = (row: RawRow) =>
    row.broken === undefined && row.noDitto !== true && row.cells.some(isDitto);
  if (!raw.rows.some(marked)) return raw;
  let count = 0;
  let before: RawRow | null = null;
  const rows = raw.rows.map((row) => {
    if (row.broken !== undefined) return row;
    if (row.noDitto) {
      before = row;
      return row;
    }
    let read = row;
    const { cells } = row;
    for (let i = 0; i < cells.length; i++) {
      if (!isDitto(cells[i]!)) continue;
      const above = before?.cells[i] ?? "";
      if (above.trim() === "" || isDitto(above))
        read = {
          ...ownRow(read),
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
  const told = notice("records-ditto-marks", "info", { count }, { file: raw.file });
  return { ...raw, rows, notices: [...raw.notices, told] };
}
