import { noticeText } from "../../../core/catalogue.js";
import type { Wording } from "../../../core/wording.js";
import { type Cell, isMeasured, type Table } from "../../section/section.js";

export type SheetCell = string | number | boolean | null;

/**
 * A table as a header and rows of bare cells for sheets, every digit kept:
 * a measured number becomes value, standard error, interval and, where any is
 * not defined, the reason, each in a column of its own.
 */
export function sheetCells(
  table: Table,
  wording?: Wording,
): readonly [readonly string[], ...(readonly SheetCell[])[]] {
  const parts = table.columns.map((column, at) => {
    const cells = table.rows.map((row) => row[at] ?? null);
    const measured = cells.filter(isMeasured);
    const unit = column.unit ?? measured.find((m) => m.unit !== "")?.unit;
    const name = unit === undefined ? column.title : `${column.title} (${unit})`;
    const extra: { name: string; of: (cell: Cell) => SheetCell }[] = [];
    const add = (
      suffix: string,
      of: (m: Extract<Cell, { unit: string }>) => SheetCell,
      wanted: boolean,
    ) => {
      if (wanted)
        extra.push({ name: `${name} ${suffix}`, of: (c) => (isMeasured(c) ? of(c) : null) });
    };
    add(
      "standard error",
      (m) => m.se ?? null,
      measured.some((m) => m.se !== undefined),
    );
    add(
      "standard deviation",
      (m) => m.sd ?? null,
      measured.some((m) => m.sd !== undefined),
    );
    const intervals = measured.some((m) => m.interval !== undefined);
    add("lower end", (m) => m.interval?.lower ?? null, intervals);
    add("upper end", (m) => m.interval?.upper ?? null, intervals);
    add(
      "n",
      (m) => m.n ?? null,
      measured.some((m) => m.n !== undefined),
    );
    add(
      "why not defined",
      (m) => (m.value === null && m.why !== undefined ? noticeText(m.why, wording) : null),
      measured.some((m) => m.value === null && m.why !== undefined),
    );
    return { at, columns: [{ name, of: plain }, ...extra] };
  });
  const header = parts.flatMap((part) => part.columns.map((c) => c.name));
  const rows = table.rows.map((row) =>
    parts.flatMap((part) => part.columns.map((c) => c.of(row[part.at] ?? null))),
  );
  return [header, ...rows];
}

function plain(cell: Cell): SheetCell {
  return isMeasured(cell) ? cell.value : cell;
}
