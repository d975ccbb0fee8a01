import { notice } from "../../core/notice.js";
import { type DateStyle, readDate } from "../../units/read-time.js";
import type { RawGrid, RawRow, RawTable } from "../raw-table.js";
import { ownRow } from "../text-row.js";
import { onlyText } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import { applyOneForAll } from "./one-for-all.js";

/** Lines with nothing but what the rows below them are of. */
export type AboveStep = StepOf<"animal above its rows"> | StepOf<"day above its rows">;

/**
 * Lines with nothing but an animal's name, or a day: each is about the rows below
 * it, up to the next such line. They become a column; the last one above the
 * heading (which begins at `headingLine`) is about the first rows.
 */
export function applyNamedAbove(
  raw: RawTable,
  step: AboveStep,
  grid: RawGrid,
  headingLine: number,
  style: DateStyle,
): RawTable {
  const ofDay = step.layout === "day above its rows";
  const named = (row: RawRow) => (ofDay ? dayLine(row, style) : animalLine(row));
  const above = grid.rows.filter((row) => row.line < headingLine).map(named);
  const wide = applyOneForAll(raw, ofDay ? "date" : "animal_id", "");
  const at = raw.header.length;
  let name = above.filter((each) => each !== null).at(-1) ?? "";
  let count = 0;
  const rows: RawRow[] = [];
  for (const row of wide.rows) {
    const next = named(row);
    if (next !== null) {
      name = next;
      count++;
      continue;
    }
    const open = row.broken === undefined && row.cells.length > at;
    rows.push(open ? { ...ownRow(row), cells: [...row.cells.slice(0, at), name] } : row);
  }
  const code = ofDay ? "records-day-lines" : "records-animal-lines";
  return {
    ...wide,
    rows,
    notices: [...raw.notices, notice(code, "info", { count }, { file: raw.file })],
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

/** The day that a line of one text is ("2025-05-10", "Date: Sat 10 May 2025"); null for other lines. */
export function dayLine(row: RawRow, style: DateStyle): string | null {
  const text = onlyText(row)
    ?.replace(/^\p{L}+\s*[:=]\s*/u, "")
    .trim();
  return text !== undefined && readDate(text, style).kind === "date" ? text : null;
}
