import type { DraftColumn } from "./draft-columns.js";
import { MadeRows, Stacked } from "./rows.js";
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
export class ColumnTable<Row extends ReadRow> extends MadeRows<Row> implements Table<Row> {
  readonly length: number;
  private readonly stacked: Stacked;

  /** @param finish what is put into a row once its columns are read. */
  constructor(
    private readonly parts: readonly ColumnPart[],
    private readonly finish: ((row: Record<string, unknown>) => void) | null = null,
  ) {
    super();
    this.stacked = new Stacked(parts.map(({ places }) => places.length));
    this.length = this.stacked.length;
  }

  /** @throws RangeError where there is no such row. */
  row(i: number): Row {
    const row = Number.isInteger(i) && i >= 0 ? this.at(i) : undefined;
    if (row === undefined) throw new RangeError(`there is no row ${i} among ${this.length}`);
    return row;
  }

  toJSON(): Row[] {
    return [...this];
  }

  protected made(i: number): Row {
    const part = this.stacked.listOf(i);
    return this.rowOf(this.parts[part]!, this.stacked.placeIn(part, i));
  }

  private rowOf({ file, columns, places, lines, cells, unread }: ColumnPart, at: number): Row {
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
