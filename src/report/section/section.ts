import type { Chart } from "../../charts/chart.js";
import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import { columnDecimals } from "./column-decimals.js";

/**
 * The one model of everything that is shown: sections of headings, text,
 * tables, charts and cautions. Small renderers turn it into a page, a document,
 * sheets or what a notebook displays.
 */
export interface Section {
  readonly kind: "section";
  readonly heading: string;
  /** Short and stable: the anchor on the page. */
  readonly id?: string;
  /** "first screen": without a heading; the picture beside the questions. Default: one under another. */
  readonly look?: "first screen";
  readonly blocks: readonly Block[];
  readonly sections?: readonly Section[];
}

export type Block =
  | TextBlock
  | ListBlock
  | CautionBlock
  | Table
  | ChartBlock
  | NoticesBlock
  | LeadBlock
  | QuestionsBlock
  | FoldBlock;

/** Paragraphs: plain text, an empty line between two. */
export interface TextBlock {
  readonly kind: "text";
  readonly text: string;
  /** Where it leads, on a page. */
  readonly href?: string;
}

export interface ListBlock {
  readonly kind: "list";
  readonly items: readonly string[];
}

export interface CautionBlock {
  readonly kind: "caution";
  readonly text: string;
}

export interface ChartBlock {
  readonly kind: "chart-block";
  readonly chart: Chart;
}

/** Notices, shown as sentences in the order given. */
export interface NoticesBlock {
  readonly kind: "notices";
  readonly notices: readonly Notice[];
}

/** The answer in one sentence, with the line that says of whom, when and from what. */
export interface LeadBlock {
  readonly kind: "lead";
  readonly where: readonly string[];
  readonly headline: string;
  /** What it hangs on, or what decides next. */
  readonly under: string | null;
  /** What may not wait until the picture has been looked at: further dangers, instructions, whom to call. */
  readonly also?: readonly string[];
}

/** How much the records say to a question: always drawn with 3, 2 or 0 filled squares. */
export type RecordStrength = "strong" | "fair" | "not yet known";

export interface ShortAnswer {
  readonly question: string;
  /** One or two sentences. */
  readonly answer: string;
  readonly strength: RecordStrength;
}

/** The reader's own questions, each with a short answer. */
export interface QuestionsBlock {
  readonly kind: "questions";
  readonly answers: readonly ShortAnswer[];
}

/** What stands behind an answer: closed on a page, at the end of a document. */
export interface FoldBlock {
  readonly kind: "fold";
  readonly title: string;
  /** What is inside, in a few words beside the title. */
  readonly about: string | null;
  readonly blocks: readonly Block[];
}

export interface Table {
  readonly kind: "table";
  /** Name of the sheet or file it becomes: short, lower case, words with hyphens. */
  readonly name: string;
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** The sentence shown instead of a table without rows. */
  readonly whenEmpty?: string;
  /** The same for sheets and files, one value a cell, where the cells of the eye hold more. */
  readonly tidy?: Pick<Table, "columns" | "rows">;
  /** Of which species all rows are: a column of its own in files. */
  readonly species?: string;
}

export interface Column {
  readonly title: string;
  /** Shown under the title and kept apart in sheets. */
  readonly unit?: string;
  /** Numbers are set right; the first column is the row's heading. */
  readonly align?: "text" | "number";
  /** Significant digits for the eye (sheets keep all). Default 4. */
  readonly digits?: number;
  /** Decimals of every bare number of the column; set by `table` where they have one size. */
  readonly decimals?: number;
  /** Nearer nought than this a number is shown as "below" it: a p of 0.000026 says no more. */
  readonly smallest?: number;
  /** Cells repeat what stands in a file, letter by letter; else a day is shown as people write it. */
  readonly asWritten?: boolean;
  /** What the column holds, for the data dictionary. */
  readonly meaning?: string;
}

/** A number, a text, a measured number, or nothing. */
export type Cell = string | number | boolean | null | Measured;

/** Makes a section. @example section("Growth", [text("Two animals.")]) */
export function section(
  heading: string,
  blocks: readonly Block[],
  more: {
    readonly id?: string;
    readonly look?: "first screen";
    readonly sections?: readonly Section[];
  } = {},
): Section {
  return { kind: "section", heading, blocks, ...more };
}

/** Makes a block of paragraphs. */
export const text = (words: string, href?: string): TextBlock => ({
  kind: "text",
  text: words,
  ...(href === undefined ? {} : { href }),
});

/** Makes a list with bullets. */
export const list = (items: readonly string[]): ListBlock => ({ kind: "list", items });

/** Makes a caution, which every renderer sets apart. */
export const caution = (words: string): CautionBlock => ({ kind: "caution", text: words });

/** Puts a chart into a section. */
export const chartBlock = (chart: Chart): ChartBlock => ({ kind: "chart-block", chart });

/** Makes a fold of blocks that stand behind an answer. */
export const fold = (
  title: string,
  blocks: readonly Block[],
  about: string | null = null,
): FoldBlock => ({
  kind: "fold",
  title,
  about,
  blocks,
});

/**
 * Makes a table.
 *
 * @example table("masses", "Mass by day", [{ name: "Mass (g)" }], [[2400]]).rows.length // 1
 */
export function table(
  name: string,
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  whenEmpty?: string,
): Table {
  return {
    kind: "table",
    name,
    caption,
    columns: columns.map((column, at) => {
      if (column.asWritten === true) return column;
      const cells = rows.map((row) => row[at] ?? null);
      const decimals = columnDecimals(cells, column.digits ?? 4);
      return decimals === undefined ? column : { ...column, decimals };
    }),
    rows,
    ...(whenEmpty === undefined ? {} : { whenEmpty }),
  };
}

/** True for a measured number among cells. */
export function isMeasured(cell: unknown): cell is Measured {
  return (
    typeof cell === "object" &&
    cell !== null &&
    "value" in cell &&
    "unit" in cell &&
    !("kind" in cell)
  );
}
