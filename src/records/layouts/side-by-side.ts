import { readHeader } from "../match-headers.js";
import type { RawGrid } from "../raw-table.js";
import { cellOf } from "../text-row.js";
import { filledCells, firstRows } from "./changed-cells.js";
import { columnLetters } from "./column-letters.js";

/** A block of columns: its own name as a source ("weights.csv!A:D"). */
export interface Block {
  readonly source: string;
}

/**
 * Tables that stand beside each other: parted by a column with nothing in it,
 * or the same headings beginning anew. Each block has at least two headings and
 * rows of its own. One table is no block.
 */
export function recogniseSideBySide(grid: RawGrid): Block[] {
  const head = firstRows(grid, 500);
  const width = Math.max(0, ...head.map((row) => row.cells.length));
  const empty = Array.from({ length: width }, (_, c) =>
    grid.rows.every((row) => row.broken !== undefined || cellOf(row, c).trim() === ""),
  );
  for (const row of head.slice(0, 20)) {
    const words = row.cells.filter((cell) => /\p{L}/u.test(cell)).length;
    if (filledCells(row) < 4 || words < 0.6 * filledCells(row)) continue;
    const named = Array.from({ length: width }, (_, c) => readHeader(row.cells[c] ?? "").plain);
    const name = ({ from, to }: Columns) =>
      `${columnLetters(from + grid.firstColumn)}:${columnLetters(to + grid.firstColumn)}`;
    const blocks = blocksBelow(named, empty);
    if (blocks.length > 1) return blocks.map((b) => ({ source: `${grid.file}!${name(b)}` }));
    const groups = groupsBeside(named);
    if (groups !== null)
      return groups.blocks.map((b) => ({
        source: `${grid.file}!${name(groups.shared)}+${name(b)}`,
      }));
  }
  return [];
}

interface Columns {
  readonly from: number;
  readonly to: number;
}

/** The same headings again and again beside columns that all of them share (a date, a time). */
function groupsBeside(
  named: readonly string[],
): { readonly shared: Columns; readonly blocks: readonly Columns[] } | null {
  const first = named.findIndex((name, i) => name !== "" && named.indexOf(name, i + 1) > 0);
  if (first < 1) return null;
  const width = named.indexOf(named[first]!, first + 1) - first;
  const blocks: Columns[] = [];
  let end = named.length;
  while (end > first && named[end - 1] === "") end--;
  if ((end - first) % width !== 0) return null;
  for (let from = first; from < end; from += width) {
    for (let c = 0; c < width; c++) if (named[from + c] !== named[first + c]) return null;
    blocks.push({ from, to: from + width - 1 });
  }
  return blocks.length < 2 ? null : { shared: { from: 0, to: first - 1 }, blocks };
}

/** Where blocks begin and end under these headings; none where one of them would be no table. */
function blocksBelow(named: readonly string[], empty: readonly boolean[]) {
  const starts = [0];
  for (let c = 1; c < named.length; c++) {
    const begin = starts.at(-1)!;
    const again = named[c] !== "" && named[c] === named[begin + lead(named, begin)];
    if ((empty[c - 1] && !empty[c]) || again) starts.push(c);
  }
  const blocks = starts.map((from, i) => {
    let to = (starts[i + 1] ?? named.length) - 1;
    while (to > from && empty[to]) to--;
    return { from, to };
  });
  const tables = blocks.every(({ from, to }) => {
    const own = named.slice(from, to + 1).filter((name) => name !== "");
    return own.length >= 2 && new Set(own).size === own.length;
  });
  return tables ? blocks : [];
}

/** Blank headings before the first one of a block. */
function lead(named: readonly string[], begin: number): number {
  let n = 0;
  while (begin + n < named.length && named[begin + n] === "") n++;
  return n;
}
