import { type Notice, notice } from "../core/notice.js";
import type { DecimalMark } from "../units/read-quantity.js";
import { tableColumns, tableNames } from "./columns.js";
import { matchCount, readHeader, tableNamed } from "./match-headers.js";
import type { RawGrid, RawRow, RawTable } from "./raw-table.js";
import type { StudyFile } from "./settings.js";
import type { GridCell, SheetGrid } from "./sheet-grid.js";
import type { TableName } from "./study.js";

export interface FoundTable {
  readonly table: TableName;
  readonly raw: RawTable;
}

/**
 * Finds the tables on a sheet: below title rows, with one header row or two,
 * with merged cells, several one below the other. A row is a header when it
 * names every required column of a table (two rows read together may, too); the
 * table is the one it fits best, the sheet's name deciding between equals.
 * Returns nothing for a sheet without such a row.
 */
export function sheetTables(
  file: string,
  sheet: SheetGrid,
  study: StudyFile,
  decimal: DecimalMark,
): FoundTable[] {
  const source = `${file}#${sheet.name}`;
  const told =
    study.sources.find((s) => s.source === source)?.table ?? tableNamed(sheet.name.toLowerCase());
  const grid = sheetTexts(file, sheet, decimal);
  const texts = grid.rows.map((row) => row.cells);
  const headers = findHeaders(texts, study, told);
  const shared = grid.notices;
  return headers.map((header, i) => {
    const next = headers[i + 1];
    const last = next === undefined ? texts.length : titleTop(texts, next.top, header.bottom);
    const rows: RawRow[] = [];
    for (let r = header.bottom + 1; r < last; r++)
      rows.push({ line: sheet.firstRow + r, cells: texts[r]! });
    const above = i === 0 ? texts.slice(0, header.top).filter(notBlank).length : 0;
    const notices = i === 0 ? [...shared] : [];
    if (above > 0)
      notices.push(notice("records-rows-above", "info", { count: above }, { file: source }));
    return {
      table: header.table,
      raw: {
        file: source,
        header: header.names,
        headerLine: sheet.firstRow + header.bottom,
        rows,
        notices,
      },
    };
  });
}

/** A sheet as lines of text, merged cells filled in. */
export function sheetTexts(file: string, sheet: SheetGrid, decimal: DecimalMark): RawGrid {
  const source = `${file}#${sheet.name}`;
  const filled = fillMerged(sheet);
  return {
    file: source,
    rows: filled.grid.map((row, r) => ({
      line: sheet.firstRow + r,
      cells: row.map((cell) => cellText(cell, decimal)),
    })),
    firstColumn: sheet.firstColumn ?? 0,
    notices: sharedNotices(sheet, source, filled.count),
  };
}

interface Header {
  readonly top: number;
  readonly bottom: number;
  readonly table: TableName;
  readonly names: readonly string[];
}

function findHeaders(
  texts: readonly (readonly string[])[],
  study: StudyFile,
  told: TableName | null,
): Header[] {
  const found: Header[] = [];
  for (let r = 0; r < texts.length; r++) {
    const one = texts[r]!;
    if (one.filter((t) => t !== "").length < 2) continue;
    const two = r + 1 < texts.length ? joined(one, texts[r + 1]!) : null;
    const single = bestTable(one, study, told);
    const below = two === null ? null : bestTable(texts[r + 1]!, study, told);
    const both = two === null ? null : bestTable(two, study, told);
    // A line above a heading that needs no second line is a record or a title, not part of it.
    const double = both !== null && (below === null || both.fit > below.fit) ? both : null;
    if (double !== null && (single === null || double.fit > single.fit)) {
      found.push({ top: r, bottom: r + 1, table: double.table, names: two! });
      r++;
    } else if (single !== null) found.push({ top: r, bottom: r, table: single.table, names: one });
  }
  return found;
}

/** The table all of whose required columns are named, fitting best. */
function bestTable(
  names: readonly string[],
  study: StudyFile,
  told: TableName | null,
): { readonly table: TableName; readonly fit: number } | null {
  let best: { table: TableName; fit: number } | null = null;
  const headers = names.filter((name) => name !== "").map((name) => readHeader(name));
  for (const table of tableNames) {
    const { required, matched } = matchCount(table, headers, study);
    const needed = tableColumns[table].filter((c) => c.required).length;
    if (required < needed || matched < 2) continue;
    // Two tables may share their columns; the sheet's name or study.json then decides.
    const fit = matched + (table === told ? 100 : 0);
    if (best === null || fit > best.fit) best = { table, fit };
  }
  return best;
}

/** "Mass" above "(kg)" is "Mass (kg)"; the same words twice stand once. */
function joined(upper: readonly string[], lower: readonly string[]): string[] {
  const width = Math.max(upper.length, lower.length);
  return Array.from({ length: width }, (_, c) => {
    const a = upper[c] ?? "";
    const b = lower[c] ?? "";
    if (a === "" || a === b) return b;
    if (b === "" || /^[([]/.test(b)) return `${a} ${b}`.trim();
    // A group heading above a name of its own ("Weighing" above "mass_g").
    return b;
  });
}

/** Where the title rows above a header begin: rows of at most one cell, and blank ones. */
function titleTop(texts: readonly (readonly string[])[], header: number, floor: number): number {
  let top = header;
  while (top - 1 > floor && texts[top - 1]!.filter((t) => t.trim() !== "").length <= 1) top--;
  return top;
}

const notBlank = (row: readonly string[]) => row.some((t) => t.trim() !== "");

/** Merged cells: every cell of the range shows what its first cell holds. */
function fillMerged(sheet: SheetGrid): { grid: GridCell[][]; count: number } {
  const grid = sheet.rows.map((row) => row.slice());
  let count = 0;
  // Ranges that overlap a thousand times are no merged cells of a person's.
  let left = 1_000_000;
  for (const m of sheet.merged) {
    left -= Math.max(0, m.bottom - m.top + 1) * Math.max(0, m.right - m.left + 1);
    if (left < 0) break;
    const value = grid[m.top]?.[m.left] ?? null;
    if (value === null) continue;
    count++;
    for (let r = m.top; r <= m.bottom && r < grid.length; r++) {
      const row = grid[r]!;
      for (let c = m.left; c <= m.right; c++) {
        while (row.length <= c) row.push(null);
        row[c] = value;
      }
    }
  }
  return { grid, count };
}

function sharedNotices(sheet: SheetGrid, file: string, mergedCells: number): Notice[] {
  const found: Notice[] = [];
  if (sheet.hidden) found.push(notice("records-sheet-hidden", "caution", {}, { file }));
  if (sheet.hiddenRows.length > 0)
    found.push(
      notice(
        "records-rows-hidden",
        "caution",
        { count: sheet.hiddenRows.length, rows: sheet.hiddenRows.slice(0, 12) },
        { file },
      ),
    );
  if (mergedCells > 0)
    found.push(notice("records-merged-cells", "info", { count: mergedCells }, { file }));
  return found;
}

/** A cell as the text that the cell readers understand, numbers with the study's mark. */
export function cellText(cell: GridCell, decimal: DecimalMark): string {
  if (cell === null) return "";
  if (typeof cell === "string") return cell;
  if (typeof cell === "object") return cell.when;
  const text = String(Number(cell.toPrecision(15)));
  return decimal === "comma" ? text.replace(".", ",") : text;
}
