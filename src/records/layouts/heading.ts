import { notice } from "../../core/notice.js";
import { sizeLimits } from "../../core/size-limits.js";
import { tableColumns } from "../columns.js";
import { matchCount, readHeader } from "../match-headers.js";
import type { RawGrid, RawRow, RawTable } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import type { TableName } from "../study.js";
import { filledCells } from "./changed-cells.js";

/**
 * The lines of the heading: below titles and comments, the first line that
 * names every column the table needs (`given`: those that a layout supplies);
 * where none does, the first line with anything on it.
 */
export function findHeading(
  grid: RawGrid,
  table: TableName,
  study: StudyFile,
  given: readonly string[] = [],
): number[] {
  const needed = tableColumns[table].filter((c) => c.required).map((c) => c.name);
  const rows = grid.rows.slice(0, sizeLimits.headingLines);
  const first = rows.find((row) => row.broken !== undefined || filledCells(row) > 0);
  for (const row of rows) {
    if (row.broken !== undefined || filledCells(row) + given.length < 2) continue;
    const names = [...row.cells, ...given];
    const { matched, required } = matchCount(table, names.map(readHeader), study);
    if (required === needed.length && matched >= 2) return [row.line];
  }
  return first === undefined ? [] : [first.line];
}

/** The table below a heading; lines above it are counted and told. */
export function belowHeading(grid: RawGrid, lines: readonly number[]): RawTable {
  const { file } = grid;
  const heads = lines.flatMap((line) => grid.rows.filter((row) => row.line === line));
  const last = heads.at(-1);
  const from = last === undefined ? 0 : placeOf(grid, last) + 1;
  const rows = grid.rows.slice(from);
  const broken = last === undefined || last.broken !== undefined;
  const top = heads[0] === undefined ? 0 : placeOf(grid, heads[0]);
  const above = grid.rows.slice(0, top).filter((row) => filledCells(row) > 0).length;
  return {
    file,
    header: broken ? [] : joinedHeading(heads),
    headerLine: last?.line ?? 1,
    rows,
    notices:
      above === 0
        ? grid.notices
        : [...grid.notices, notice("records-rows-above", "info", { count: above }, { file })],
  };
}

const placeOf = ({ rows }: RawGrid, { line }: RawRow) => rows.findIndex((row) => row.line === line);

/** Two lines of heading read as one: what stands above holds for the columns to its right. */
function joinedHeading(heads: readonly RawRow[]): readonly string[] {
  const [upper, lower] = heads;
  if (upper === undefined) return [];
  if (lower === undefined) return upper.cells;
  let above = "";
  return Array.from({ length: Math.max(upper.cells.length, lower.cells.length) }, (_, c) => {
    const own = (upper.cells[c] ?? "").trim();
    if (own !== "") above = own;
    const below = (lower.cells[c] ?? "").trim();
    if (below === "" || below === above) return own === "" ? below : own;
    return above === "" ? below : `${above} ${below}`;
  });
}
