import { type DraftColumn, NumberColumn, WordColumn } from "./draft-columns.js";
import type { DraftVolume } from "./draft-row.js";
import { type PlainInstants, plainInstants } from "./plain-instant.js";
import { type CellOutcome, type ColumnReading, readCell } from "./read-cell.js";
import { volumeOf } from "./weigh-volumes.js";

/** What came of a cell that is not simply its value. */
export type ReadCell = CellOutcome | { readonly volume: DraftVolume };

/** Reads the cells of one column of a file and puts plain values where they belong. */
export interface CellReader {
  readonly index: number;
  readonly how: ColumnReading;
  /** Puts the value of a cell into its row and returns null, or returns what else came of it. */
  read(cell: string, row: number): ReadCell | null;
}

/** Cells of a column that differ are so many at most in nearly every file. */
const MOST_KNOWN = 20_000;

/**
 * A reader of one column. What a text means is worked out once for each text of the
 * column, and once for each date of an instant; nothing else of a row has any part in it.
 */
export function cellReader(
  index: number,
  how: ColumnReading,
  column: DraftColumn,
  volumes: boolean,
): CellReader {
  const whole = (cell: string): ReadCell => {
    const volume = volumes && how.unit !== null ? volumeOf(cell, how) : null;
    return volume === null ? readCell(cell, how) : { volume };
  };
  const { holds } = how.column;
  if (column instanceof NumberColumn && holds !== "number")
    return { index, how, read: instants(plainInstants(how.zone), column, whole) };
  if (column instanceof NumberColumn) return { index, how, read: known(column, whole, asNumber) };
  if (column instanceof WordColumn) {
    const asCode = (value: unknown) => (typeof value === "string" ? column.words.codeOf(value) : 0);
    return { index, how, read: known(column, whole, asCode) };
  }
  return { index, how, read: (cell, row) => put(whole(cell), column, row) };
}

const asNumber = (value: unknown) => (typeof value === "number" ? value : Number.NaN);

function put(outcome: ReadCell, column: DraftColumn, row: number): ReadCell | null {
  if (!isPlain(outcome)) return outcome;
  column.set(row, outcome.value);
  return null;
}

/** A value of which nothing is to be said. */
const isPlain = (outcome: ReadCell): outcome is { readonly value: unknown } =>
  "value" in outcome && outcome.notice === undefined && outcome.unread === undefined;

function instants(
  plain: PlainInstants,
  column: NumberColumn,
  whole: (cell: string) => ReadCell,
): CellReader["read"] {
  return (cell, row) => {
    const at = plain(cell);
    if (Number.isNaN(at)) return put(whole(cell), column, row);
    column.put(row, at);
    return null;
  };
}

/** Texts and numbers, each text of the column read once. */
function known(
  column: WordColumn | NumberColumn,
  whole: (cell: string) => ReadCell,
  stored: (value: unknown) => number,
): CellReader["read"] {
  const values = new Map<string, number>();
  const others = new Map<string, ReadCell>();
  return (cell, row) => {
    const value = values.get(cell);
    if (value !== undefined) {
      column.put(row, value);
      return null;
    }
    const other = others.get(cell);
    if (other !== undefined) return other;
    const outcome = whole(cell);
    if (!isPlain(outcome)) {
      if (others.size < MOST_KNOWN) others.set(cell, outcome);
      return outcome;
    }
    const fresh = stored(outcome.value);
    if (values.size < MOST_KNOWN) values.set(cell, fresh);
    column.put(row, fresh);
    return null;
  };
}
