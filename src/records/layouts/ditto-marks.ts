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

/** Whether a cell says "as above". @example isDitto("dto.") // true */
export function isDitto(cell: string): boolean {
  return cell.length <= 7 && cell !== "" && marks.has(cell.trim().toLowerCase());
}

/**
 * Reads ditto marks as what stands above them in the same column. One with
 * nothing above it stays as it is and is set aside with its row.
 */
export function readDittoMarks(raw: RawTable): RawTable {
  let count = 0;
  let before: RawRow | null = null;
  const rows = raw.rows.map((row) => {
    if (row.broken !== undefined) return row;
    let read = row;
    if (before !== null)
      for (let i = 0; i < row.cells.length; i++) {
        if (!isDitto(row.cells[i]!)) continue;
        const above = before.cells[i] ?? "";
        if (above.trim() === "" || isDitto(above)) continue;
        read = withCell(read, i, above);
        count++;
      }
    before = read;
    return read;
  });
  if (count === 0) return raw;
  return {
    ...raw,
    rows,
    notices: [...raw.notices, notice("records-ditto-marks", "info", { count }, { file: raw.file })],
  };
}
