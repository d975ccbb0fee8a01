import { notice } from "../../core/notice.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { changeRows, columnOf, filledCells, firstRows, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised, TableRoles } from "./recognised.js";
import { isTotal } from "./total-words.js";

/**
 * Blank cells of some columns mean what stands above them. A row of totals, a
 * row of one cell, and a row with nothing but filled-in cells and one amount
 * stay as they are: which animal or day they are about cannot be told.
 */
export function applyAsAbove(raw: RawTable, step: StepOf<"as above">): RawTable {
  const places = step.columns.map((name) => columnOf(raw, name)).filter((i) => i >= 0);
  const last = new Map<number, string>();
  let count = 0;
  const read = changeRows(raw, (row) => {
    let filled = row;
    const open = fillable(row, places);
    for (const i of places) {
      const own = textAt(row, i);
      if (own !== "") {
        // A new animal begins its own list: what stood under the last one is not its own.
        if (last.get(i) !== own) for (const j of places) if (j > i) last.delete(j);
        if (open) last.set(i, own);
      } else if (open && last.has(i)) {
        filled = withCell(filled, i, last.get(i)!);
        count++;
      }
    }
    return filled;
  });
  return {
    ...read,
    notices: [...raw.notices, notice("records-as-above", "info", { count }, { file: raw.file })],
  };
}

/** Whether a row says enough by itself to be given what stands above. */
export function fillable(row: RawRow, places: readonly number[]): boolean {
  if (filledCells(row) < 2 || row.cells.some((cell) => isTotal(cell))) return false;
  // Neither animal nor day of its own: then at least a clock time must say that it is an entry.
  const own = places.length < 2 || places.some((i) => textAt(row, i) !== "");
  return own || row.cells.some((cell) => clock.test(cell.trim()));
}

const clock = /^\d{1,2}[:.h]\d\d\b|^\d{3,4}$|^\d{1,2}\s*[ap]\.?m/i;

/**
 * Columns of animal or day with blanks below filled cells, in rows that are
 * entries otherwise. A blank may also be a cell that was forgotten: proposed,
 * never assumed.
 */
export function recogniseAsAbove(raw: RawTable, roles: TableRoles): Recognised | null {
  const names = [roles.animal, roles.date === roles.time ? undefined : roles.date];
  if (roles.date !== undefined && roles.date === roles.time) {
    // One column of day and clock time is above its blanks only where it holds days alone.
    const at = columnOf(raw, roles.date);
    if (raw.rows.every((row) => !/\d[:.h]\d\d|\dT\d/.test(textAt(row, at)))) names.push(roles.date);
  }
  const asked = names.flatMap((name) => {
    const at = columnOf(raw, name);
    return name === undefined || at < 0 ? [] : [{ name, at }];
  });
  const places = asked.map((column) => column.at);
  const head = firstRows(raw, 500);
  const open = head.filter((row) => fillable(row, places));
  const columns = asked.filter(({ at }) => {
    const blanks = open.filter((row) => textAt(row, at) === "").length;
    return (
      textAt(open[0] ?? { line: 0, cells: [] }, at) !== "" &&
      blanks >= 2 &&
      blanks >= 0.1 * open.length
    );
  });
  if (columns.length === 0) return null;
  const count = open.filter((row) => columns.some(({ at }) => textAt(row, at) === "")).length;
  const step = { layout: "as above", columns: columns.map((c) => c.name) } as const;
  return {
    step,
    why: notice("propose-as-above", "info", { columns: step.columns, count, of: open.length }),
  };
}
