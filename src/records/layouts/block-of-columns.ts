import { type Notice, notice } from "../../core/notice.js";
import type { RawGrid, RawRow } from "../raw-table.js";
import { columnIndex, columnLetters } from "./column-letters.js";

/** Parts a name like "weights.csv!A:D" into the file and its first and last column. */
export function columnRange(
  source: string,
): { readonly whole: string; readonly from: number; readonly to: number } | null {
  const m = /^(.*)!([A-Z]{1,3}):([A-Z]{1,3})$/.exec(source);
  if (m === null) return null;
  const [from, to] = [columnIndex(m[2]!), columnIndex(m[3]!)];
  return to < from ? null : { whole: m[1]!, from, to };
}

/**
 * Blocks of columns that stand side by side, each read as a table of its own.
 * Cells between and beside them are counted and told; a line that could not be
 * cut into cells stays with the first block.
 */
export function blocksOfColumns(
  grid: RawGrid,
  sources: readonly string[],
  notices: Notice[],
): RawGrid[] {
  const ranges = sources.flatMap((source) => {
    const range = columnRange(source);
    return range === null || range.whole !== grid.file ? [] : [{ source, ...range }];
  });
  if (ranges.length === 0) return [grid];
  const inSome = (column: number) => ranges.some((r) => column >= r.from && column <= r.to);
  const left: string[] = [];
  let count = 0;
  for (const row of grid.rows) {
    if (row.broken !== undefined) continue;
    row.cells.forEach((cell, i) => {
      if (cell.trim() === "" || inSome(i + grid.firstColumn)) return;
      count++;
      if (left.length < 12)
        left.push(`${columnLetters(i + grid.firstColumn)}${row.line} ${cell.trim().slice(0, 30)}`);
    });
  }
  if (count > 0)
    notices.push(
      notice("records-cells-left", "caution", { count, cells: left }, { file: grid.file }),
    );
  return ranges.map(({ source, from, to }, i) => ({
    file: source,
    firstColumn: from,
    notices: i === 0 ? grid.notices : [],
    rows: grid.rows.flatMap((row): RawRow[] =>
      row.broken !== undefined
        ? i === 0
          ? [row]
          : []
        : [
            {
              ...row,
              cells: row.cells.slice(
                Math.max(0, from - grid.firstColumn),
                Math.max(0, to - grid.firstColumn + 1),
              ),
            },
          ],
    ),
  }));
}
