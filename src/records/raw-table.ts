import type { Notice, PlainCode } from "../core/notice.js";
import type { Rows } from "./rows.js";

/**
 * A table as it stood in its file, before any meaning: what every reader (text,
 * workbook, JSON) hands on. Cells are text; a workbook's own dates and numbers
 * have been written out by its reader.
 */
export interface RawTable {
  readonly file: string;
  readonly header: readonly string[];
  readonly headerLine: number;
  readonly rows: Rows<RawRow>;
  readonly notices: readonly Notice[];
}

export interface RawRow {
  /** 1-based line in the file, or sheet row. */
  readonly line: number;
  readonly cells: readonly string[];
  /** The cells as they stood, where a layout changed what is read. */
  readonly written?: readonly string[];
  /** The one cell a row was made of ("D7"), where a row of the file gave several. */
  readonly cell?: string;
  /** Set where a layout found that a cell cannot be read: which, why, what to do (codes). */
  readonly fault?: {
    readonly index: number;
    readonly reason: PlainCode;
    readonly todo: PlainCode;
  };
  /** Set where the row could not even be split into cells. */
  readonly broken?: Notice;
  /** Set where it was seen on the way that no cell says "as above". */
  readonly noDitto?: boolean;
  /** One cell alone, where all are cut only when asked for. */
  cellAt?(index: number): string;
}

/** All lines of a file or sheet, heading and titles included, before it is known what is what. */
export interface RawGrid {
  readonly file: string;
  readonly rows: Rows<RawRow>;
  /** Column of the file in which the cells begin, counted from 0. */
  readonly firstColumn: number;
  readonly notices: readonly Notice[];
}
