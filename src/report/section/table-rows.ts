import { isMeasured, type Table } from "./section.js";

/**
 * A table as plain rows, for data frames and sheets: one property per column
 * (title and unit), measured numbers split into value and standard error.
 *
 * @example tableRows(gainsTable(analysis))[0]?.["Gain (g/d)"] // 61.2
 */
export function tableRows(table: Table): Record<string, string | number | boolean | null>[] {
  const names = table.columns.map((c) =>
    c.unit === undefined ? c.title : `${c.title} (${c.unit})`,
  );
  const measuredAt = table.columns.map((_, at) => table.rows.some((row) => isMeasured(row[at])));
  return table.rows.map((row) => {
    const out: [string, string | number | boolean | null][] = [];
    for (const [at, name] of names.entries()) {
      const cell = row[at] ?? null;
      out.push([name, isMeasured(cell) ? cell.value : cell]);
      if (measuredAt[at]) out.push([`${name} SE`, isMeasured(cell) ? (cell.se ?? null) : null]);
    }
    return Object.fromEntries(out);
  });
}
