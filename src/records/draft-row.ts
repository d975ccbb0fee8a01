import type { Notice } from "../core/notice.js";
import type { ColumnPart } from "./column-table.js";
import { tableColumns } from "./columns.js";
import { type DraftColumn, draftColumn } from "./draft-columns.js";
import type { RawRow } from "./raw-table.js";
import { MadeRows, type Rows, Stacked } from "./rows.js";
import type { SharedWords } from "./shared-words.js";
import type { TableName } from "./study.js";
import { cellOf } from "./text-row.js";

/**
 * A row on its way: read cell by cell, then checked against other rows. It ends
 * accepted, accepted with notices, or - once `fault` is set - set aside. Its
 * values stand in the columns of its table; it is only a place among them.
 */
export class DraftRow {
  constructor(
    readonly of: DraftTable,
    /** Its place in the columns. */
    readonly at: number,
  ) {}

  get table(): TableName {
    return this.of.table;
  }

  get file(): string {
    return this.of.file;
  }

  get line(): number {
    return this.row.line;
  }

  /** The row as it stood in the file or as a layout left it. */
  get row(): RawRow {
    return this.of.rowAt(this.at);
  }

  /** Its cells as they stood. */
  get raw(): readonly string[] {
    return this.row.written ?? this.row.cells;
  }

  /** A cell as it was read, which a layout may have changed; blank where the row has none. */
  cellRead(index: number): string {
    return cellOf(this.row, index);
  }

  /** The one cell it was made of ("D7"), where a line of the file gave several rows. */
  get cell(): string | undefined {
    return this.row.cell;
  }

  /** A value by our key; undefined where the table has no such column. */
  get(key: string): unknown {
    return this.of.columns.get(key)?.get(this.at);
  }

  /** Puts a value in; what a file calls its columns never becomes a key. */
  set(key: string, value: unknown): void {
    this.of.columns.get(key)!.set(this.at, value);
  }

  /** Nothing is to be said of it. */
  get isQuiet(): boolean {
    return !this.of.notices.has(this.at) && !this.of.faults.has(this.at);
  }

  get notices(): readonly Notice[] {
    return this.of.notices.get(this.at) ?? none;
  }

  note(notice: Notice): void {
    const own = this.of.notices.get(this.at);
    if (own === undefined) this.of.notices.set(this.at, [notice]);
    else own.push(notice);
  }

  /** Amounts written as volumes, which wait for the density of their diet. */
  get volumes(): readonly DraftVolume[] | undefined {
    return this.of.volumes.get(this.at);
  }

  weighLater(volume: DraftVolume): void {
    const own = this.of.volumes.get(this.at);
    if (own === undefined) this.of.volumes.set(this.at, [volume]);
    else own.push(volume);
  }

  /** Cells in which something stands that gave no value, by our key, as written. */
  get unread(): Readonly<Record<string, string>> | null {
    return this.of.unread.get(this.at) ?? null;
  }

  keepUnread(key: string, cell: string): void {
    const own = this.of.unread.get(this.at);
    if (own === undefined) this.of.unread.set(this.at, { [key]: cell });
    else own[key] = cell;
  }

  get fault(): RowFault | null {
    return this.of.faults.get(this.at) ?? null;
  }

  set fault(fault: RowFault | null) {
    if (fault !== null) this.of.faults.set(this.at, fault);
  }
}

const none: readonly Notice[] = [];

/**
 * The rows of one file or sheet on their way, column by column. What few rows
 * have (notices, faults, cells unread) is kept by the row's place.
 */
export class DraftTable {
  /** How many rows there are: those of the file that are none of blanks. */
  length = 0;
  /** Where each stands among the rows of the file. */
  private readonly sources: Int32Array;
  /** By our keys, in the order of the table's columns. */
  readonly columns: ReadonlyMap<string, DraftColumn>;
  readonly notices = new Map<number, Notice[]>();
  readonly unread = new Map<number, Record<string, string>>();
  readonly volumes = new Map<number, DraftVolume[]>();
  readonly faults = new Map<number, RowFault>();

  constructor(
    readonly table: TableName,
    readonly file: string,
    /** Where our columns stand among the cells, by our name. */
    readonly places: ReadonlyMap<string, number>,
    private readonly of: Rows<RawRow>,
    words: SharedWords,
  ) {
    this.sources = new Int32Array(of.length);
    this.columns = new Map(
      tableColumns[table].map((c) => [c.key, draftColumn(c, of.length, words)] as const),
    );
  }

  /** A row as it stood in the file. */
  rowAt(at: number): RawRow {
    return this.of.at(this.sources[at]!)!;
  }

  /** What is kept of the table once it is known which rows are set aside. */
  accepted(): ColumnPart {
    const places = new Int32Array(this.length).map((_, at) => at);
    const good = this.faults.size === 0 ? places : places.filter((at) => !this.faults.has(at));
    const lines = new Int32Array(good.length);
    const cells = new Map<number, string>();
    for (let i = 0; i < good.length; i++) {
      const { line, cell } = this.rowAt(good[i]!);
      lines[i] = line;
      if (cell !== undefined) cells.set(good[i]!, cell);
    }
    return {
      file: this.file,
      columns: this.columns,
      places: good,
      lines,
      cells,
      unread: this.unread,
    };
  }

  /** Takes in the row that stands at a place among those of the file. */
  add(source: number): DraftRow {
    this.sources[this.length] = source;
    return new DraftRow(this, this.length++);
  }
}

/** The rows of one table on their way, file behind file; each is made when somebody looks at it. */
export class DraftRows extends MadeRows<DraftRow> {
  readonly length: number;
  private readonly stacked: Stacked;

  constructor(readonly files: readonly DraftTable[]) {
    super();
    this.stacked = new Stacked(files.map((file) => file.length));
    this.length = this.stacked.length;
  }

  protected made(i: number): DraftRow {
    const file = this.stacked.listOf(i);
    return new DraftRow(this.files[file]!, this.stacked.placeIn(file, i));
  }
}

export interface RowFault {
  readonly column: string | null;
  readonly value: string | null;
  readonly reason: Notice;
  readonly suggestion: Notice;
}

/** Every row on its way, by table. */
export type Drafts = ReadonlyMap<TableName, DraftRows>;

/** The cell of one of our columns as it was written; null where the file has none. */
export function written(draft: DraftRow, column: string): string | null {
  const place = draft.of.places.get(column);
  return place === undefined ? null : (draft.raw[place] ?? null);
}

/** An amount written as a volume, to be weighed once the diets are known. */
export interface DraftVolume {
  readonly column: string;
  readonly key: string;
  readonly ml: number;
}
