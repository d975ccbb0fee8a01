import { notice } from "../core/notice.js";
import type { DecimalMark } from "../units/read-quantity.js";
import { tableColumns } from "./columns.js";
import type { DraftRow } from "./draft-row.js";
import { keepUnread, loseCell } from "./lose-cell.js";
import type { MatchedHeaders } from "./match-headers.js";
import type { RawRow, RawTable } from "./raw-table.js";
import { blankValue, type ColumnReading, placed, readCell } from "./read-cell.js";
import type { StudySettings, TableName } from "./study.js";
import { volumeOf } from "./weigh-volumes.js";

/** Reads every row of a table, cell by cell. Rows of nothing but blank cells are no rows. */
export function draftRows(
  table: TableName,
  raw: RawTable,
  headers: MatchedHeaders,
  settings: StudySettings,
  decimalOf: (column: string) => DecimalMark,
): DraftRow[] {
  const readings = headers.matched.map((m) => ({
    index: m.index,
    how: {
      column: m.column,
      zone: settings.zone,
      startHour: settings.feedingDayStartHour,
      dateStyle: settings.dateStyle,
      decimal: decimalOf(m.column.name),
      unit: m.unit,
    } satisfies ColumnReading,
  }));
  const blank = blankRow(table);
  const places = new Map(headers.matched.map((m) => [m.column.name, m.index] as const));
  const drafts: DraftRow[] = [];
  const lacking = headers.missing[0];
  for (const row of raw.rows) {
    if (row.broken === undefined && row.cells.every((cell) => cell.trim() === "")) continue;
    const draft = draftRow(table, raw, row, readings, blank, places);
    if (lacking !== undefined) {
      const place = { file: raw.file, table, line: row.line, column: lacking };
      draft.fault = {
        column: lacking,
        value: null,
        reason: notice("records-column-missing", "problem", { column: lacking }, place),
        suggestion: notice("suggest-map-column", "info", { column: lacking, table }, place),
      };
    }
    drafts.push(draft);
  }
  return drafts;
}

function draftRow(
  table: TableName,
  raw: RawTable,
  row: RawRow,
  readings: readonly { readonly index: number; readonly how: ColumnReading }[],
  blank: Readonly<Record<string, unknown>>,
  places: ReadonlyMap<string, number>,
): DraftRow {
  const draft: DraftRow = {
    table,
    file: raw.file,
    line: row.line,
    raw: row.written ?? row.cells,
    ...(row.written === undefined ? {} : { read: row.cells }),
    ...(row.cell === undefined ? {} : { cell: row.cell }),
    places,
    values: { ...blank },
    notices: [],
    unread: null,
    fault: null,
  };
  const place = { file: raw.file, table, line: row.line };
  if (row.broken !== undefined) {
    draft.fault = {
      column: null,
      value: row.cells[0] ?? null,
      reason: { ...row.broken, place },
      suggestion: notice("suggest-close-quote", "info", {}, place),
    };
    return draft;
  }
  if (row.fault !== undefined) {
    const { index, reason, todo } = row.fault;
    const value = draft.raw[index] ?? null;
    const column = [...places].find(([, i]) => i === index)?.[0] ?? null;
    const here = column === null ? place : { ...place, column };
    draft.fault = {
      column,
      value,
      reason: notice(reason, "problem", {}, here),
      suggestion: notice(todo, "info", {}, here),
    };
  }
  const tooMany = (value: string | null) => {
    const counts = { cells: row.cells.length, columns: raw.header.length };
    draft.fault = {
      column: null,
      value,
      reason: notice("records-too-many-cells", "problem", counts, place),
      suggestion: notice("suggest-quote-delimiter", "info", {}, place),
    };
    return draft;
  };
  const extra = row.cells.slice(raw.header.length).find((cell) => cell.trim() !== "");
  if (extra !== undefined) return tooMany(extra);
  let otherKind: string | null = null;
  for (const { index, how } of readings) {
    const cell = row.cells[index] ?? "";
    const asWritten = row.written?.[index] ?? cell;
    const volume = table === "feeds" && how.unit !== null ? volumeOf(cell, how) : null;
    if (volume !== null) {
      draft.volumes = [...(draft.volumes ?? []), volume];
      continue;
    }
    const outcome = readCell(cell, how);
    // Made only where something is said of the cell: a place for each of them took half the time.
    const here = () => ({ ...place, column: how.column.name });
    if ("reason" in outcome) {
      if (table === "observations" && outcome.reason.code === "records-unknown-choice") {
        otherKind = cell.trim();
        draft.values[how.column.key] = "note";
        const said = { code: "records-kind-as-note", parameters: { written: otherKind } } as const;
        draft.notices.push(placed(said, "caution", here()));
        continue;
      }
      if (!how.column.required && !how.column.neededWhenWritten) {
        loseCell(draft, how.column.name, outcome.reason);
        continue;
      }
      draft.fault ??= {
        column: how.column.name,
        value: asWritten,
        reason: placed(outcome.reason, "problem", here()),
        suggestion: placed(outcome.suggestion, "info", here()),
      };
      continue;
    }
    // Blank cells too many and a word that fits no list: the cells have slid along.
    if (
      outcome.notice?.code === "records-choice-left-blank" &&
      row.cells.length > raw.header.length
    )
      return tooMany(cell);
    draft.values[how.column.key] = outcome.value;
    if (outcome.unread) keepUnread(draft, how.column.name, cell.trim());
    if (outcome.notice !== undefined) draft.notices.push(placed(outcome.notice, "caution", here()));
  }
  if (otherKind !== null) noteOfKind(draft, otherKind);
  return draft;
}

/**
 * An observation of a kind that has no name here is a note, its kind before its words:
 * set aside, "gasping" would be in a list and raise nothing.
 */
function noteOfKind(draft: DraftRow, kind: string): void {
  const { value, unit } = draft.values;
  draft.values["value"] = [`${kind}:`, value, unit].filter((part) => part != null).join(" ");
  draft.values["unit"] = null;
}

/** A row of nothing but blanks: what stands where a file has no column or a cell was not read. */
function blankRow(table: TableName): Record<string, unknown> {
  const values: Record<string, unknown> = {};
  for (const column of tableColumns[table]) values[column.key] = blankValue(column);
  return values;
}
