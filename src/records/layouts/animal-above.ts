import { notice } from "../../core/notice.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { onlyText } from "./changed-cells.js";
import { applyOneForAll } from "./one-for-all.js";

/**
 * Lines with nothing but an animal's name: each is about the rows below it, up
 * to the next such line. They become a column; `first` stands above the heading.
 */
export function applyAnimalAbove(raw: RawTable, first: string | null): RawTable {
  const wide = applyOneForAll(raw, "animal_id", "");
  const at = raw.header.length;
  let animal = first ?? "";
  let count = 0;
  const rows: RawRow[] = [];
  for (const row of wide.rows) {
    const named = animalLine(row);
    if (named !== null) {
      animal = named;
      count++;
      continue;
    }
    const open = row.broken === undefined && row.cells.length > at;
    rows.push(open ? { ...row, cells: [...row.cells.slice(0, at), animal] } : row);
  }
  return {
    ...wide,
    rows,
    notices: [
      ...raw.notices,
      notice("records-animal-lines", "info", { count }, { file: raw.file }),
    ],
  };
}

/** The name that a line of one text gives ("Bramble", "Pup: Bramble"); null for other lines. */
export function animalLine(row: RawRow): string | null {
  const text = onlyText(row);
  if (text === null || !/\p{L}/u.test(text) || (row.cells[0] ?? "").trim() === "") return null;
  return text
    .split(/[:=]\s*/)
    .at(-1)!
    .trim();
}
