import { tableColumns } from "../columns.js";
import { joinColumns, matchHeaders } from "../match-headers.js";
import type { RawRow, RawTable } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import type { TableName } from "../study.js";
import { textAt } from "./changed-cells.js";

interface Shared {
  readonly table: TableName;
  readonly raw: RawTable;
}

/**
 * One list that holds several tables (a log with a column of weights and one of
 * feeds): a row belongs to each table of which it fills a needed column of its
 * own, and to the first where it fills none, so that no row is lost.
 */
export function shareRows(tables: readonly Shared[], study: StudyFile): Shared[] {
  const own = tables.map((t) => ownPlaces(t, tables, study));
  const fills = (row: RawRow, places: readonly number[]) =>
    places.some((i) => textAt(row, i) !== "");
  return tables.map(({ table, raw }, t) => ({
    table,
    raw: {
      ...raw,
      rows: raw.rows.filter((row, r) => {
        if (row.broken !== undefined) return t === 0;
        if (fills(row, own[t]!)) return true;
        const elsewhere = tables.some(
          (other, o) => o !== t && fills(other.raw.rows.at(r) ?? row, own[o]!),
        );
        return t === 0 && !elsewhere;
      }),
    },
  }));
}

/** Where a table's needed columns stand that the others do not need. */
function ownPlaces({ table, raw }: Shared, all: readonly Shared[], study: StudyFile): number[] {
  const others = new Set(
    all
      .filter((other) => other.table !== table)
      .flatMap((other) => tableColumns[other.table].filter((c) => c.required).map((c) => c.name)),
  );
  const { matched } = matchHeaders(table, joinColumns(table, raw, study), study);
  return matched
    .filter((m) => m.column.required === true && !others.has(m.column.name))
    .filter((m) => m.column.name !== "animal_id" && m.column.name !== "at")
    .map((m) => m.index);
}
