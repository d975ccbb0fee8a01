import type { Random } from "../../../src/core/random.js";
import { type Cells, dated, type TrueStudy, timed } from "./true-study.js";

/** A study on its way to being written: habits change it one after the other. */
export interface Draft {
  readonly settings: Record<string, unknown>;
  readonly tables: Map<string, DraftTable>;
  readonly style: Style;
  readonly truth: TrueStudy;
}

export interface DraftTable {
  readonly name: string;
  /** File name without its ending. */
  file: string;
  columns: string[];
  rows: DraftRow[];
  /** What a column is called, where not by our name. */
  readonly headers: Map<string, string>;
  /** Lines above the header. */
  above: string[];
  layout: "list" | "sheet per animal" | "days across" | "side by side" | "merged ids" | "by month";
  /** The header again before each of these rows. */
  repeatHeaderEvery: number | null;
}

export interface DraftRow {
  /** Which true row it is: "table:index". Null for lines that are none. */
  readonly id: string | null;
  readonly cells: Record<string, string>;
  /** Written instead of the formatted time. */
  readonly blank?: true;
}

export interface Style {
  date: (iso: string) => string;
  clock: (hhmm: string) => string;
  /** Date and time in one cell. */
  join: (date: string, clock: string, isoDate: string, hhmm: string) => string;
  /** Two columns for date and time. */
  split: boolean;
  delimiter: string;
  newline: string;
  quoteAll: boolean;
  encoding: "utf8" | "bom" | "utf16le" | "latin1";
  workbook: null | "dates" | "texts" | "1904";
}

/** Our own plain writing of a true study. */
export function plainDraft(truth: TrueStudy): Draft {
  const tables = new Map<string, DraftTable>();
  for (const [name, { columns, rows }] of Object.entries(truth.tables))
    tables.set(name, {
      name,
      file: name,
      columns: [...columns],
      rows: rows.map((cells, i) => ({ id: `${name}:${i}`, cells: { ...cells } })),
      headers: new Map(),
      above: [],
      layout: "list",
      repeatHeaderEvery: null,
    });
  return {
    settings: { ...truth.settings },
    tables,
    truth,
    style: {
      date: (iso) => iso,
      clock: (hhmm) => hhmm,
      join: (date, clock) => `${date} ${clock}`,
      split: false,
      delimiter: ",",
      newline: "\n",
      quoteAll: false,
      encoding: "utf8",
      workbook: null,
    },
  };
}

/** A way in which somebody else may write. */
export interface Habit {
  readonly name: string;
  /**
   * Decided before the first run: whether a careful person reads it without
   * asking, or has to ask.
   */
  readonly reads: "without asking" | "must ask";
  /** What it settles; two habits that settle one thing are never combined. */
  readonly settles: readonly string[];
  readonly write: (draft: Draft, random: Random) => void;
  /** Whether a study can be written so at all; default: always. */
  readonly fits?: (truth: TrueStudy) => boolean;
}

/** Changes the cells of one column in every row that has something there. */
export function rewrite(
  draft: Draft,
  table: string,
  column: string,
  change: (cell: string, cells: Cells) => string,
): void {
  for (const row of draft.tables.get(table)?.rows ?? []) {
    const cell = row.cells[column];
    if (cell !== undefined && cell !== "") row.cells[column] = change(cell, row.cells);
  }
}

/** A cell as the draft's style writes it. */
export function styled(draft: Draft, column: string, cell: string): string {
  const at = /^(\d{4}-\d\d-\d\d) (\d\d:\d\d)$/.exec(cell);
  if (timed.has(column) && at !== null)
    return draft.style.join(draft.style.date(at[1]!), draft.style.clock(at[2]!), at[1]!, at[2]!);
  if (dated.has(column) && /^\d{4}-\d\d-\d\d$/.test(cell)) return draft.style.date(cell);
  return cell;
}
