import type { DraftColumn } from "./draft-columns.js";
import type { ReadRow, RowOrigin } from "./study.js";
import type { Table } from "./table.js";

/** The accepted rows of one file: columns, and the few things that few rows have. */
export interface ColumnPart {
  readonly file: string;
  readonly columns: ReadonlyMap<string, DraftColumn>;
  /** Where the accepted rows stand in the columns. */
  readonly places: Int32Array;
  /** Their lines in the file. */
  readonly lines: Int32Array;
  /** The one cell a row was made of, by its place. */
  readonly cells: ReadonlyMap<number, string>;
  /** Cells that gave no value, by the row's place. */
  readonly unread: ReadonlyMap<number, Readonly<Record<string, string>>>;
}

/**
 * A table kept as columns of numbers and of shared words, file behind file. Rows are
 * plain objects, made when they are asked for; as JSON it is the array of its rows.
 *
 * @example study.tables.feeds.row(0).offeredG
 */
export class ColumnTable<Row extends ReadRow> implements Table<Row> {
  readonly length: number;

  /** @param finish what is put into a row once its columns are read. */
  constructor(
    private readonly parts: readonly ColumnPart[],
    private readonly finish: ((row: Record<string, unknown>) => void) | null = null,
  ) {
    this.length = parts.reduce((n, part) => n + part.places.length, 0);
  }

  /** @throws RangeError where there is no such row. */
  row(i: number): Row {
    let at = i;
    for (const part of this.parts) {
      if (at >= 0 && at < part.places.length) return this.made(part, at);
      at -= part.places.length;
    }
    throw new RangeError(`there is no row ${i} among ${this.length}`);
  }

  *[Symbol.iterator](): Iterator<Row> {
    for (const part of this.parts)
      for (let at = 0; at < part.places.length; at++) yield this.made(part, at);
  }

  map<T>(change: (row: Row, i: number) => T): T[] {
    const found = new Array<T>(this.length);
    let i = 0;
    for (const row of this) found[i] = change(row, i++);
    return found;
  }

  flatMap<T>(change: (row: Row, i: number) => readonly T[]): T[] {
    const found: T[] = [];
    let i = 0;
    for (const row of this) for (const each of change(row, i++)) found.push(each);
    return found;
  }

  filter(test: (row: Row, i: number) => boolean): Row[] {
    return this.flatMap((row, i) => (test(row, i) ? [row] : []));
  }

  toJSON(): Row[] {
    return [...this];
  }

  private made({ file, columns, places, lines, cells, unread }: ColumnPart, at: number): Row {
    const place = places[at]!;
    const row: Record<string, unknown> = {};
    for (const [key, column] of columns) row[key] = column.get(place);
    const line = lines[at]!;
    const cell = cells.size === 0 ? undefined : cells.get(place);
    row["origin"] = (cell === undefined ? { file, line } : { file, line, cell }) as RowOrigin;
    const own = unread.size === 0 ? undefined : unread.get(place);
    if (own !== undefined) row["unread"] = own;
    this.finish?.(row);
    return row as unknown as Row;
  }
}
