import type { Notice } from "../core/notice.js";

/**
 * A table as it stood in its file, before any meaning: what every reader (text,
 * workbook, JSON) hands on. Cells are text; a workbook's own dates and numbers
 * have been written out by its reader.
 */
export interface RawTable {
  readonly file: string;
  readonly header: readonly string[];
  readonly headerLine: number;
  readonly rows: readonly RawRow[];
  readonly notices: readonly Notice[];
}

export interface RawRow {
  /** 1-based line in the file, or sheet row. */
  readonly line: number;
  readonly cells: readonly string[];
  /** Set where the row could not even be split into cells. */
  readonly broken?: Notice;
}
