import { readHeader } from "../match-headers.js";
import type { RawGrid } from "../raw-table.js";
import { filledCells } from "./changed-cells.js";
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
  const rows = grid.rows.filter((row) => row.broken === undefined);
  const width = Math.max(0, ...rows.slice(0, 500).map((row) => row.cells.length));
  const empty = Array.from({ length: width }, (_, c) =>
    rows.every((row) => (row.cells[c] ?? "").trim() === ""),
  );
  for (const row of rows.slice(0, 20)) {
    const words = row.cells.filter((cell) => /\p{L}/u.test(cell)).length;
    if (filledCells(row) < 4 || words < 0.6 * filledCells(row)) continue;
    const named = Array.from({ length: width }, (_, c) => readHeader(row.cells[c] ?? "").plain);
    const blocks = blocksBelow(named, empty);
    if (blocks.length < 2) continue;
    return blocks.map(({ from, to }) => {
      const [a, b] = [from, to].map((c) => columnLetters(c + grid.firstColumn));
      return { source: `${grid.file}!${a}:${b}` };
    });
  }
  return [];
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
