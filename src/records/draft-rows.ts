import { notice } from "../core/notice.js";
import type { DecimalMark } from "../units/read-quantity.js";
import { type CellReader, cellReader, type ReadCell } from "./cell-reader.js";
import { type DraftRow, DraftTable, type RowFault } from "./draft-row.js";
import { keepUnread, loseCell } from "./lose-cell.js";
import type { MatchedHeaders } from "./match-headers.js";
import type { RawRow, RawTable } from "./raw-table.js";
import { placed } from "./read-cell.js";
import { ownText, type SharedWords } from "./shared-words.js";
import type { StudySettings, TableName } from "./study.js";

/** Reads every row of a table, cell by cell. Rows of nothing but blank cells are no rows. */
export function draftRows(
  table: TableName,
  raw: RawTable,
  headers: MatchedHeaders,
  settings: StudySettings,
  decimalOf: (column: string) => DecimalMark,
  words: SharedWords,
): DraftTable {
  const places = new Map(headers.matched.map((m) => [m.column.name, m.index] as const));
  const drafts = new DraftTable(table, raw.file, places, raw.rows, words);
  const readers = headers.matched.map((m) =>
    cellReader(
      m.index,
      {
        column: m.column,
        zone: settings.zone,
        startHour: settings.feedingDayStartHour,
        dateStyle: settings.dateStyle,
        decimal: decimalOf(m.column.name),
        unit: m.unit,
      },
      drafts.columns.get(m.column.key)!,
      table === "feeds",
    ),
  );
  const lacking = headers.missing[0];
  raw.rows.forEach((row, i) => {
    const { cells } = row;
    if (row.broken === undefined && cells.every(isBlank)) return;
    const draft = drafts.add(i);
    readRow(draft, row, cells, readers, raw.header.length);
    if (lacking !== undefined) {
      const place = { file: raw.file, table, line: row.line, column: lacking };
      draft.fault = {
        column: lacking,
        value: null,
        reason: notice("records-column-missing", "problem", { column: lacking }, place),
        suggestion: notice("suggest-map-column", "info", { column: lacking, table }, place),
      };
    }
  });
  return drafts;
}

const isBlank = (cell: string) => cell === "" || cell.trim() === "";

function readRow(
  draft: DraftRow,
  row: RawRow,
  cells: readonly string[],
  readers: readonly CellReader[],
  width: number,
): void {
  if (row.broken !== undefined || row.fault !== undefined) draft.fault = faultOfRow(draft, row);
  if (row.broken !== undefined) return;
  if (cells.length > width) {
    const extra = cells.slice(width).find((cell) => !isBlank(cell));
    if (extra !== undefined) {
      tooMany(draft, extra, cells.length, width);
      return;
    }
  }
  let otherKind: string | null = null;
  for (const reader of readers) {
    const cell = cells[reader.index] ?? "";
    if (cell === "" && reader.how.column.required !== true) continue;
    const outcome = reader.read(cell, draft.at);
    if (outcome === null) continue;
    // Blank cells too many and a word that fits no list: the cells have slid along.
    if (cells.length > width && fitsNoList(outcome)) {
      tooMany(draft, cell, cells.length, width);
      return;
    }
    if (isOtherKind(draft, outcome)) {
      otherKind = cell.trim();
      draft.set(reader.how.column.key, "note");
      const said = { code: "records-kind-as-note", parameters: { written: otherKind } } as const;
      draft.note(placed(said, "caution", placeOfCell(draft, reader.how.column.name)));
    } else tell(draft, reader, cell, outcome);
  }
  if (otherKind !== null) noteOfKind(draft, otherKind);
}

const fitsNoList = (outcome: ReadCell) =>
  "value" in outcome && outcome.notice?.code === "records-choice-left-blank";

const isOtherKind = (draft: DraftRow, outcome: ReadCell) =>
  draft.table === "observations" &&
  "reason" in outcome &&
  outcome.reason.code === "records-unknown-choice";

/** What came of a cell that is not simply its value. */
function tell(draft: DraftRow, reader: CellReader, cell: string, outcome: ReadCell): void {
  const { column } = reader.how;
  if ("volume" in outcome) draft.weighLater(outcome.volume);
  else if ("value" in outcome) {
    draft.set(column.key, outcome.value);
    if (outcome.unread) keepUnread(draft, column.name, cell.trim());
    if (outcome.notice !== undefined)
      draft.note(placed(outcome.notice, "caution", placeOfCell(draft, column.name)));
  } else if (!column.required && !column.neededWhenWritten)
    loseCell(draft, column.name, outcome.reason);
  else
    draft.fault ??= {
      column: column.name,
      value: ownText(draft.row.written?.[reader.index] ?? cell),
      reason: placed(outcome.reason, "problem", placeOfCell(draft, column.name)),
      suggestion: placed(outcome.suggestion, "info", placeOfCell(draft, column.name)),
    };
}

// Made only where something is said of the cell: a place for each of them took half the time.
const placeOfCell = ({ file, table, line }: DraftRow, column: string) => ({
  file,
  table,
  line,
  column,
});

/** What is wrong with a row as a whole: it could not be cut, or a layout could not read it. */
function faultOfRow(draft: DraftRow, row: RawRow): RowFault {
  const { file, table, line } = draft;
  const place = { file, table, line };
  if (row.broken !== undefined)
    return {
      column: null,
      value: row.cells[0] ?? null,
      reason: { ...row.broken, place },
      suggestion: notice("suggest-close-quote", "info", {}, place),
    };
  const { index, reason, todo } = row.fault!;
  const column = [...draft.of.places].find(([, i]) => i === index)?.[0] ?? null;
  const here = column === null ? place : { ...place, column };
  return {
    column,
    value: draft.raw[index] ?? null,
    reason: notice(reason, "problem", {}, here),
    suggestion: notice(todo, "info", {}, here),
  };
}

/** Cells beyond the last column: which of them is which cannot be told. */
function tooMany(draft: DraftRow, value: string, cells: number, columns: number): void {
  const { file, table, line } = draft;
  const place = { file, table, line };
  draft.fault = {
    column: null,
    value: ownText(value),
    reason: notice("records-too-many-cells", "problem", { cells, columns }, place),
    suggestion: notice("suggest-quote-delimiter", "info", {}, place),
  };
}

/**
 * An observation of a kind that has no name here is a note, its kind before its words:
 * set aside, "gasping" would be in a list and raise nothing.
 */
function noteOfKind(draft: DraftRow, kind: string): void {
  const said = [`${kind}:`, draft.get("value"), draft.get("unit")];
  draft.set("value", said.filter((part) => part != null).join(" "));
  draft.set("unit", null);
}
