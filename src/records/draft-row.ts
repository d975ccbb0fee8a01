import type { Notice } from "../core/notice.js";
import type { TableName } from "./study.js";

/**
 * A row on its way: read cell by cell, then checked against other rows. It ends
 * accepted, accepted with notices, or - once `fault` is set - set aside.
 */
export interface DraftRow {
  readonly table: TableName;
  readonly file: string;
  readonly line: number;
  /** Its cells as they stood. */
  readonly raw: readonly string[];
  /** Its cells as they were read, where a layout changed them. */
  readonly read?: readonly string[];
  /** The one cell it was made of ("D7"), where a line of the file gave several rows. */
  readonly cell?: string;
  /** Where our columns stand among the cells, by our name. */
  readonly places: ReadonlyMap<string, number>;
  /** By our keys only; what a file calls its columns never becomes a key. */
  readonly values: Record<string, unknown>;
  readonly notices: Notice[];
  /** Amounts written as volumes, which wait for the density of their diet. */
  volumes?: readonly DraftVolume[];
  /** Cells in which something stands that gave no value, by our key, as written. */
  unread: Record<string, string> | null;
  fault: RowFault | null;
}

export interface RowFault {
  readonly column: string | null;
  readonly value: string | null;
  readonly reason: Notice;
  readonly suggestion: Notice;
}

/** Every row on its way, by table. */
export type Drafts = ReadonlyMap<TableName, readonly DraftRow[]>;

/** The cell of one of our columns as it was written; null where the file has none. */
export function written(draft: DraftRow, column: string): string | null {
  const place = draft.places.get(column);
  return place === undefined ? null : (draft.raw[place] ?? null);
}

/** An amount written as a volume, to be weighed once the diets are known. */
export interface DraftVolume {
  readonly column: string;
  readonly key: string;
  readonly ml: number;
}
