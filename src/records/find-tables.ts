import { type Notice, notice } from "../core/notice.js";
import { readJsonTable } from "./json-tables.js";
import { tableNamed } from "./match-headers.js";
import { openWorkbook } from "./open-workbook.js";
import { readTextTable } from "./read-text-table.js";
import type { StudyFile } from "./settings.js";
import type { SheetGrid } from "./sheet-grid.js";
import { type FoundTable, sheetTables } from "./sheet-tables.js";

/** A file of a study folder: path relative to the folder, and its bytes. */
export interface StudyInput {
  readonly path: string;
  readonly bytes: Uint8Array;
  /** The sheets of a workbook where it was opened already (in a worker of its own). */
  readonly sheets?: readonly SheetGrid[];
}

/** Sheets that explain: never records. */
const notRecords = /^(example|data dictionary|dictionary|read me|instructions)\b/i;

/** `weighings.csv`, and where a table is kept in parts `weighings-2024.csv`, `weighings-2025.csv`. */
export function findTables(
  files: readonly StudyInput[],
  study: StudyFile,
  notices: Notice[],
): FoundTable[] {
  const found: FoundTable[] = [];
  const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  for (const file of sorted) {
    const { path, bytes } = file;
    const told = study.sources.find((s) => s.source === path)?.table;
    const table = told ?? tableNamed(path.replace(/\.[a-z]+$/i, ""));
    const decimal =
      (table === null ? undefined : study.decimals.get(table)) ?? study.settings.decimal;
    if (/\.(xlsx|xlsm|xls|ods)$/i.test(path)) {
      const sheets = file.sheets ?? openWorkbook(path, bytes);
      for (const sheet of sheets) {
        if (notRecords.test(sheet.name)) {
          notices.push(
            notice("records-sheet-example", "info", { sheet: sheet.name }, { file: path }),
          );
          continue;
        }
        const tables = sheetTables(path, sheet, study, decimal);
        found.push(...tables);
        if (tables.length === 0 && sheet.rows.length > 0)
          notices.push(
            notice("records-sheet-ignored", "caution", { sheet: sheet.name }, { file: path }),
          );
      }
    } else if (/\.json$/i.test(path)) {
      if (table !== null) found.push({ table, raw: readJsonTable(path, bytes, decimal) });
    } else if (table !== null) found.push({ table, raw: readTextTable(path, bytes) });
    else if (/\.(csv|tsv|tab)$/i.test(path))
      notices.push(notice("records-file-ignored", "info", { file: path }, { file: path }));
  }
  return found;
}
