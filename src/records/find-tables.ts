import { type Notice, notice } from "../core/notice.js";
import { sizeLimits } from "../core/size-limits.js";
import { readJsonGrid, readJsonTable } from "./json-tables.js";
import { blocksOfColumns } from "./layouts/block-of-columns.js";
import { readDittoMarks } from "./layouts/ditto-marks.js";
import { layOut } from "./layouts/lay-out.js";
import { shareRows } from "./layouts/share-rows.js";
import { tableNamed } from "./match-headers.js";
import { openWorkbook } from "./open-workbook.js";
import type { RawGrid } from "./raw-table.js";
import { readTextGrid } from "./read-text-table.js";
import type { StudyFile } from "./settings.js";
import type { SheetGrid } from "./sheet-grid.js";
import { type FoundTable, sheetTables, sheetTexts } from "./sheet-tables.js";
import type { TableName } from "./study.js";

/** A file of a study folder: path relative to the folder, and its bytes. */
export interface StudyInput {
  readonly path: string;
  readonly bytes: Uint8Array;
  /** The sheets of a workbook where it was opened already (in a worker of its own). */
  readonly sheets?: readonly SheetGrid[];
  /** Of a folder with too many tables to be a nursery's records (its path ends in "/"): how many. Nothing of it is read. */
  readonly tablesInside?: number;
}

/** Sheets that explain: never records. */
const notRecords = /^(example|data dictionary|dictionary|read me|instructions)\b/i;

/**
 * Which file, sheet or block of columns holds which table, each made a plain
 * table. `weighings.csv`, and where a table is kept in parts
 * `weighings-2024.csv`, `weighings march.csv`.
 */
export function findTables(
  files: readonly StudyInput[],
  study: StudyFile,
  notices: Notice[],
): FoundTable[] {
  const found: FoundTable[] = [];
  const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  const unused = new Set(study.layouts.keys());
  const further: string[] = [];
  for (const file of sorted) {
    const { path, bytes, tablesInside } = file;
    if (tablesInside !== undefined) {
      notices.push(
        notice("records-folder-too-full", "caution", {
          folder: path,
          count: tablesInside,
          most: sizeLimits.filesInFolder,
        }),
      );
      continue;
    }
    // In a folder inside the study's lie records of another year, or copies: only if told.
    if (path.includes("/") && !isTold(path, study)) {
      if (!path.endsWith(".json") || tableNamed(stemOf(path)) !== null) further.push(path);
      continue;
    }
    if (leftOut(path, study)) {
      unused.delete(path);
      notices.push(notice("records-left-out", "info", { source: path }, { file: path }));
      continue;
    }
    const named = tableNamed(path.replace(/\.[a-z]+$/i, ""));
    const table = toldTable(path, study) ?? named;
    const decimalIn = (name: TableName | null) =>
      (name === null ? undefined : study.decimals.get(name)) ?? study.settings.decimal;
    const decimal = decimalIn(table);
    if (/\.(xlsx|xlsm|xls|ods)$/i.test(path)) {
      const sheets = file.sheets ?? openWorkbook(path, bytes);
      for (const sheet of sheets) {
        if (notRecords.test(sheet.name)) {
          notices.push(
            notice("records-sheet-example", "info", { sheet: sheet.name }, { file: path }),
          );
          continue;
        }
        const source = `${path}#${sheet.name}`;
        if (leftOut(source, study)) {
          unused.delete(source);
          notices.push(notice("records-left-out", "info", { source }, { file: source }));
          continue;
        }
        const own = toldTable(source, study) ?? tableNamed(sheet.name);
        const laidOut = [...unused].some((key) => key === source || key.startsWith(`${source}!`));
        const tables =
          laidOut || isCut(source, study)
            ? tablesOf(sheetTexts(path, sheet, decimalIn(own)), own, study, notices, unused)
            : sheetTables(path, sheet, study, decimal).map(({ table, raw }) => ({
                table,
                raw: readDittoMarks(raw),
              }));
        found.push(...tables);
        if (tables.length === 0 && sheet.rows.length > 0)
          notices.push(
            notice("records-sheet-ignored", "caution", { sheet: sheet.name }, { file: path }),
          );
      }
    } else if (/\.json$/i.test(path)) {
      if (table === null) continue;
      if (study.layouts.has(path))
        found.push(...tablesOf(readJsonGrid(path, bytes, decimal), table, study, notices, unused));
      else found.push({ table, raw: readJsonTable(path, bytes, decimal) });
    } else if (/\.(csv|tsv|tab)$/i.test(path)) {
      const tables =
        table === null && !isCut(path, study)
          ? []
          : tablesOf(readTextGrid(path, bytes), table, study, notices, unused);
      found.push(...tables);
      if (tables.length === 0)
        notices.push(notice("records-file-ignored", "info", { file: path }, { file: path }));
    }
  }
  if (further.length > 0)
    notices.push(
      notice("records-files-in-folders", "caution", {
        count: further.length,
        files: further.slice(0, 6),
      }),
    );
  for (const source of unused)
    notices.push(notice("records-layout-unused", "caution", { source }, { file: "study.json" }));
  return found;
}

/** The name of a file without its folders and its ending. */
const stemOf = (path: string) => path.slice(path.lastIndexOf("/") + 1).replace(/\.[a-z]+$/i, "");

/** Whether study.json names the file, one of its sheets or a block of it. */
const isTold = (path: string, study: StudyFile) =>
  study.sources.some(
    ({ source }) =>
      source === path || source.startsWith(`${path}#`) || source.startsWith(`${path}!`),
  );

/** Whether a person said that a file or sheet holds no records. */
const leftOut = (source: string, study: StudyFile) =>
  study.layouts.get(source)?.some((step) => step.layout === "leave out") === true;

const toldTable = (source: string, study: StudyFile) =>
  study.sources.find((s) => s.source === source)?.table ?? null;

/** Whether study.json names blocks of columns of this file or sheet. */
const isCut = (source: string, study: StudyFile) =>
  study.sources.some((s) => s.source.startsWith(`${source}!`));

/** The tables of a file or sheet: one, or one for each block of columns that study.json names. */
function tablesOf(
  grid: RawGrid,
  table: TableName | null,
  study: StudyFile,
  notices: Notice[],
  unused: Set<string>,
): FoundTable[] {
  const blocks = blocksOfColumns(
    grid,
    study.sources.map((s) => s.source),
    notices,
  );
  return blocks.flatMap((block) => {
    unused.delete(block.file);
    if (leftOut(block.file, study)) return [];
    const told = study.sources.filter((s) => s.source === block.file).map((s) => s.table);
    const names = told.length > 0 ? [...new Set(told)] : table === null ? [] : [table];
    const read = names.map((name) => ({ table: name, raw: layOut(block, name, study) }));
    return read.length < 2 ? read : shareRows(read, study);
  });
}
