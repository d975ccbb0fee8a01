import { type Notice, notice } from "../../core/notice.js";
import { shortened } from "../../core/shortened.js";
import { sizeLimits } from "../../core/size-limits.js";
import type { RawGrid, RawRow } from "../raw-table.js";
import { ownRow } from "../text-row.js";
import { columnIndex, columnLetters } from "./column-letters.js";

/** Columns from one to another, ends included, counted from 0. */
interface Columns {
  readonly from: number;
  readonly to: number;
}

/**
 * Parts a name into the file and its columns: "weights.csv!A:D", or
 * "weights.csv!A:A+D:F" where a block shares columns with others.
 */
export function columnRange(
  source: string,
): { readonly whole: string; readonly ranges: readonly Columns[] } | null {
  const m = /^(.*)!([A-Z]{1,3}:[A-Z]{1,3}(?:\+[A-Z]{1,3}:[A-Z]{1,3})*)$/.exec(source);
  if (m === null) return null;
  const ranges = m[2]!.split("+").map((part): Columns => {
    const [from, to] = part.split(":").map(columnIndex) as [number, number];
    return { from, to };
  });
  return ranges.some((r) => r.to < r.from) ? null : { whole: m[1]!, ranges };
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
  const ranges = [...new Set(sources)].flatMap((source) => {
    const range = columnRange(source);
    return range === null || range.whole !== grid.file ? [] : [{ source, ...range }];
  });
  if (ranges.length === 0) return [grid];
  const inSome = (column: number) =>
    ranges.some((block) => block.ranges.some((r) => column >= r.from && column <= r.to));
  const left: string[] = [];
  let count = 0;
  const rows = grid.rows.map(ownRow);
  for (const row of rows) {
    if (row.broken !== undefined) continue;
    row.cells.forEach((cell, i) => {
      if (cell.trim() === "" || inSome(i + grid.firstColumn)) return;
      count++;
      if (left.length < 12)
        left.push(
          `${columnLetters(i + grid.firstColumn)}${row.line} ${shortened(cell.trim(), sizeLimits.lineLetters)}`,
        );
    });
  }
  if (count > 0)
    notices.push(
      notice("records-cells-left", "caution", { count, cells: left }, { file: grid.file }),
    );
  return ranges.map(({ source, ranges: own }, i) => ({
    file: source,
    firstColumn: own[0]!.from,
    notices: i === 0 ? grid.notices : [],
    rows: rows.flatMap((row): RawRow[] =>
      row.broken !== undefined
        ? i === 0
          ? [row]
          : []
        : [
            {
              ...row,
              cells: own.flatMap(({ from, to }) =>
                Array.from(
                  { length: to - from + 1 },
                  (_, c) => row.cells[from + c - grid.firstColumn] ?? "",
                ),
              ),
            },
          ],
    ),
  }));
}
