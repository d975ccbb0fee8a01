import type { RawTable } from "../raw-table.js";
import { ownRow } from "../text-row.js";

/** Adds a column in which every row names the same thing: an animal, a day. */
export function applyOneForAll(raw: RawTable, column: string, text: string): RawTable {
  const at = raw.header.length;
  return {
    ...raw,
    header: [...raw.header, column],
    rows: raw.rows.map((row) => {
      // A row of blanks stays one, and a row that is too long is not made longer.
      if (row.broken !== undefined || row.cells.length > at) return row;
      if (row.cells.every((cell) => cell.trim() === "")) return row;
      const longer = (cells: readonly string[]) => {
        const all = cells.slice();
        while (all.length < at) all.push("");
        all.push(text);
        return all;
      };
      const { cells, written } = row;
      return written === undefined
        ? { ...ownRow(row), cells: longer(cells) }
        : { ...ownRow(row), cells: longer(cells), written: longer(written) };
    }),
  };
}
