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
  const heading = rows.slice(0, 30).reduce<(typeof rows)[number] | null>((best, row) => {
    const words = row.cells.filter((cell) => /\p{L}/u.test(cell)).length;
    const most = best === null ? 0 : best.cells.filter((cell) => /\p{L}/u.test(cell)).length;
    return words > most ? row : best;
  }, null);
  if (heading === null || filledCells(heading) < 4) return [];
  const width = Math.max(...rows.slice(0, 500).map((row) => row.cells.length));
  const empty = (c: number) => rows.every((row) => (row.cells[c] ?? "").trim() === "");
  const named = heading.cells.map((cell) => readHeader(cell).plain);
  const starts = [0];
  for (let c = 1; c < width; c++) {
    const gap = empty(c - 1) && !empty(c);
    const begin = starts.at(-1)!;
    const again =
      named[c] !== "" && named[c] !== undefined && named[c] === named[begin + lead(named, begin)];
    if (gap || again) starts.push(c);
  }
  const blocks = starts.map((from, i) => ({ from, to: (starts[i + 1] ?? width) - 1 }));
  const own = blocks.map(
    ({ from, to }) => named.slice(from, to + 1).filter((n) => n !== "").length,
  );
  if (blocks.length < 2 || own.some((n) => n < 2)) return [];
  return blocks.map(({ from, to }) => {
    while (to > from && empty(to)) to--;
    const [a, b] = [from, to].map((c) => columnLetters(c + grid.firstColumn));
    return { source: `${grid.file}!${a}:${b}` };
  });
}

/** Blank headings before the first one of a block. */
function lead(named: readonly string[], begin: number): number {
  let n = 0;
  while (begin + n < named.length && named[begin + n] === "") n++;
  return n;
}
