import { readHeader } from "../match-headers.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { cellOf, ownRow } from "../text-row.js";

/** Where a heading stands in a table; -1 where it does not. */
export function columnOf(raw: RawTable, heading: string | undefined): number {
  if (heading === undefined) return -1;
  const exact = raw.header.findIndex((h) => h.trim() === heading.trim());
  if (exact >= 0) return exact;
  const { plain } = readHeader(heading);
  return raw.header.findIndex((h) => readHeader(h).plain === plain);
}

/** A row with another text in one cell; what stood there is kept as written. */
export function withCell(row: RawRow, index: number, text: string): RawRow {
  const cells = row.cells.slice();
  while (cells.length <= index) cells.push("");
  if (cells[index] === text) return row;
  cells[index] = text;
  return { ...ownRow(row), cells, written: row.written ?? row.cells };
}

/** The first rows that could be cut into cells, below a line where one is said. */
export function firstRows({ rows }: Pick<RawTable, "rows">, most: number, below = 0): RawRow[] {
  const found: RawRow[] = [];
  for (const row of rows) {
    if (found.length === most) break;
    if (row.broken === undefined && row.line > below) found.push(row);
  }
  return found;
}

/** Every row passed through `change`; rows that could not be cut into cells stay as they are. */
export function changeRows(raw: RawTable, change: (row: RawRow) => RawRow): RawTable {
  return {
    ...raw,
    rows: raw.rows.map((row) => (row.broken === undefined ? change(row) : row)),
  };
}

/** The text of a cell without blanks around it. */
export const textAt = (row: RawRow, index: number) => cellOf(row, index).trim();

export const filledCells = (row: RawRow) => row.cells.filter((cell) => cell.trim() !== "").length;

/** The one text of a line that holds nothing else (a merged cell shows it several times); else null. */
export function onlyText(row: RawRow): string | null {
  if (row.broken !== undefined) return null;
  let only: string | null = null;
  for (const cell of row.cells) {
    const text = cell.trim();
    if (text === "" || text === only) continue;
    if (only !== null) return null;
    only = text;
  }
  return only;
}
