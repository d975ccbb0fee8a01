import type { TableName } from "../../../src/records/study.js";
import type { Files } from "./dull-study.js";

/** A small invented set of records and what a careful person reads from it. */
export interface RecordSet {
  /** What it is, in words; no two sets share it. */
  readonly name: string;
  readonly files: Files;
  /** What `check` proposes is accepted first, as by `check --save-mapping`. */
  readonly accept?: true;
  /**
   * Rows that must be read: the columns first, then each row, cells between bars;
   * "-" for a cell that holds nothing. Each must be there exactly once.
   */
  readonly rows?: Partial<Record<TableName, readonly string[]>>;
  /** How many rows of a table are accepted. */
  readonly counts?: Partial<Record<TableName, number>>;
  /** Rows that must be asked about (set aside, or accepted with a notice or a doubt of their own). */
  readonly asked?: readonly Asked[];
  /** Every row is accepted and none is asked about: the spelling is a usual one. */
  readonly quiet?: true;
  /** Reading it is refused, in a sentence that says what to do. */
  readonly refused?: RegExp;
  /** What the screen of `check` must say. */
  readonly check?: readonly RegExp[];
  /** The day looked at; default: the study's own. */
  readonly onDay?: string;
  /** What must stand above all animals on both pages. */
  readonly head?: readonly RegExp[];
  /** What must stand somewhere on both pages, whomever it concerns. */
  readonly somewhere?: readonly RegExp[];
  readonly pages?: Readonly<Record<string, PageWords>>;
}

export interface Asked {
  readonly table: TableName;
  /** A text that stands in the row as written; every row with it must be asked about. */
  readonly row: string;
  /** The rows are equal: it is enough that one of them is asked about. */
  readonly equal?: true;
  /** What the question must say. */
  readonly says?: RegExp;
}

/** Words of one animal's block. What must be said is also tried on the unchanged study, which must not say it. */
export interface PageWords {
  readonly handOver?: Words;
  readonly sheet?: Words;
  /** Rows of the feeding sheet with an amount: "8 x 140 g milk"; nothing else may stand there. */
  readonly ordered?: readonly string[];
}

export interface Words {
  readonly says?: readonly RegExp[];
  /** Said here and in the unchanged study alike. */
  readonly still?: readonly RegExp[];
  readonly never?: readonly RegExp[];
}

/** Food is withheld or somebody is to be called: the set "vomit twice" shows that pages say it so. */
export const alarm = /do not feed|\bhold\b|on hold|danger|call now/i;

/** A cell that could not be read is shown as written, with a call to look. */
export const unreadable = /could not be read|cannot be read/i;
