import type { RawRow } from "./raw-table.js";

/** What the rows of one text have in common. */
export interface RowText {
  readonly text: string;
  readonly delimiter: string;
  /** Cuts the row that begins at a place into its cells. */
  readonly cut: (from: number) => readonly string[];
}

/**
 * A row that knows where it stands in its file's text and is cut into cells when
 * they are asked for: cutting again is cheaper than keeping the cells of every row.
 */
export class TextRow implements RawRow {
  constructor(
    private readonly of: RowText,
    private readonly from: number,
    readonly line: number,
    readonly noDitto: boolean,
  ) {}

  get cells(): readonly string[] {
    return this.of.cut(this.from);
  }

  cellAt(index: number): string {
    const { text, delimiter } = this.of;
    const mark = delimiter.charCodeAt(0);
    let start = this.from;
    for (let cell = 0; ; cell++) {
      if (text.charCodeAt(start) === QUOTE) return this.cells[index] ?? "";
      let stop = start;
      let c = text.charCodeAt(stop);
      while (c !== mark && c !== LF && c !== CR && stop < text.length) c = text.charCodeAt(++stop);
      if (cell === index) return text.slice(start, stop);
      if (c !== mark || stop >= text.length) return "";
      start = stop + 1;
    }
  }
}

/** One cell of a row, blank where the row has none; of a row in a text it alone is cut out. */
export const cellOf = (row: RawRow, index: number): string =>
  row.cellAt === undefined ? (row.cells[index] ?? "") : row.cellAt(index);

/** The row as an object of its own, to be copied with other cells or a fault. */
export function ownRow(row: RawRow): RawRow {
  return row instanceof TextRow ? { line: row.line, cells: row.cells } : row;
}

const QUOTE = 34;
const LF = 10;
const CR = 13;
