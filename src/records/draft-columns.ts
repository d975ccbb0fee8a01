import type { Column } from "./columns.js";
import { blankValue } from "./read-cell.js";
import type { SharedWords } from "./shared-words.js";

/** The values of one column of a table, one for each row; nothing is kept while all are blank. */
export interface DraftColumn {
  get(row: number): unknown;
  set(row: number, value: unknown): void;
  /** Equal for equal values, and quickly made. */
  hashAt(row: number): number;
  /** Whether two rows hold the same; the other column is of the same kind. */
  same(row: number, other: DraftColumn, at: number): boolean;
}

export function draftColumn(column: Column, rows: number, words: SharedWords): DraftColumn {
  switch (column.holds) {
    case "id":
    case "text":
    case "value":
    case "choice":
    case "date":
      return new WordColumn(rows, words, blankValue(column) as string | null);
    case "number":
    case "instant":
    case "day start":
      return new NumberColumn(rows);
    default:
      return new ThingColumn(rows);
  }
}

/** Texts by their numbers in the study's words. */
export class WordColumn implements DraftColumn {
  codes: Int32Array | null = null;
  readonly blank: number;

  constructor(
    private readonly rows: number,
    readonly words: SharedWords,
    blank: string | null,
  ) {
    this.blank = blank === null ? 0 : words.codeOf(blank);
  }

  codeAt(row: number): number {
    return this.codes === null ? this.blank : this.codes[row]!;
  }

  put(row: number, code: number): void {
    if (this.codes === null) {
      if (code === this.blank) return;
      this.codes = new Int32Array(this.rows).fill(this.blank);
    }
    this.codes[row] = code;
  }

  get(row: number): string | null {
    return this.words.textOf(this.codeAt(row));
  }

  set(row: number, value: unknown): void {
    if (value !== null && typeof value !== "string") throw new TypeError(`no text: ${value}`);
    this.put(row, value === null ? 0 : this.words.codeOf(value));
  }

  hashAt(row: number): number {
    return this.codeAt(row);
  }

  same(row: number, other: DraftColumn, at: number): boolean {
    return this.codeAt(row) === (other as WordColumn).codeAt(at);
  }
}

/** Numbers and instants; what is not a number is a blank. */
export class NumberColumn implements DraftColumn {
  numbers: Float64Array | null = null;

  constructor(private readonly rows: number) {}

  /** NaN for a blank. */
  numberAt(row: number): number {
    return this.numbers === null ? Number.NaN : this.numbers[row]!;
  }

  put(row: number, value: number): void {
    this.numbers ??= new Float64Array(this.rows).fill(Number.NaN);
    this.numbers[row] = value;
  }

  get(row: number): number | null {
    const value = this.numberAt(row);
    return Number.isNaN(value) ? null : value;
  }

  set(row: number, value: unknown): void {
    if (typeof value === "number") this.put(row, value);
    else if (value !== null) throw new TypeError(`no number: ${String(value)}`);
    else if (this.numbers !== null) this.numbers[row] = Number.NaN;
  }

  hashAt(row: number): number {
    if (this.numbers === null) return 0;
    halves[0] = this.numbers[row]!;
    return parts[0]! ^ Math.imul(parts[1]!, 0x9e3779b1);
  }

  same(row: number, other: DraftColumn, at: number): boolean {
    const [mine, theirs] = [this.numberAt(row), (other as NumberColumn).numberAt(at)];
    return mine === theirs || (Number.isNaN(mine) && Number.isNaN(theirs));
  }
}

const halves = new Float64Array(1);
const parts = new Int32Array(halves.buffer);

/** Anything else: rough dates and orders, cell by cell. */
class ThingColumn implements DraftColumn {
  private things: unknown[] | null = null;

  constructor(private readonly rows: number) {}

  get(row: number): unknown {
    return this.things === null ? null : this.things[row];
  }

  set(row: number, value: unknown): void {
    if (this.things === null) {
      if (value === null) return;
      this.things = new Array<unknown>(this.rows).fill(null);
    }
    this.things[row] = value;
  }

  hashAt(row: number): number {
    const text = JSON.stringify(this.get(row)) ?? "";
    let hash = 0;
    for (let i = 0; i < text.length; i++) hash = (Math.imul(hash, 31) + text.charCodeAt(i)) | 0;
    return hash;
  }

  same(row: number, other: DraftColumn, at: number): boolean {
    return JSON.stringify(this.get(row)) === JSON.stringify(other.get(at));
  }
}
