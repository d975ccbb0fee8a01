import type { RawRow } from "./raw-table.js";
import { fromEnd, MadeRows } from "./rows.js";
import { type RowText, TextRow } from "./text-row.js";

/** Where the rows of a text begin: three numbers a row, and those that are not simply a piece of it. */
export class TextRows extends MadeRows<RawRow> {
  private constructor(
    private readonly of: RowText,
    private readonly places: Places,
    private readonly first: number,
    readonly length: number,
  ) {
    super();
  }

  /** Reads on with `next` until it says that there is no more. */
  static of(of: RowText, next: (add: (row: RawRow | ScannedPlace) => void) => boolean): TextRows {
    const places: Places = {
      from: new Int32Array(64),
      lines: new Int32Array(64),
      noDitto: new Uint8Array(64),
      odd: new Map(),
    };
    let n = 0;
    const add = (row: RawRow | ScannedPlace) => {
      if (n === places.lines.length) grow(places);
      if ("position" in row) {
        places.from[n] = row.position;
        places.noDitto[n] = row.noDitto ? 1 : 0;
      } else places.odd.set(n, row);
      places.lines[n++] = row.line;
    };
    while (next(add));
    return new TextRows(of, places, 0, n);
  }

  protected made(i: number): RawRow {
    const at = this.first + i;
    const { from, lines, noDitto, odd } = this.places;
    const own = odd.size === 0 ? undefined : odd.get(at);
    return own ?? new TextRow(this.of, from[at]!, lines[at]!, noDitto[at] === 1);
  }

  override slice(from = 0, to = this.length): TextRows {
    const start = Math.min(fromEnd(from, this.length), this.length);
    const end = Math.max(start, Math.min(fromEnd(to, this.length), this.length));
    return new TextRows(this.of, this.places, this.first + start, end - start);
  }
}

/** Where a row was found that can be cut again. */
export interface ScannedPlace {
  readonly position: number;
  readonly line: number;
  readonly noDitto: boolean;
}

interface Places {
  from: Int32Array;
  lines: Int32Array;
  noDitto: Uint8Array;
  readonly odd: Map<number, RawRow>;
}

function grow(places: Places): void {
  const more = Math.ceil(1.5 * places.lines.length);
  const [from, lines] = [new Int32Array(more), new Int32Array(more)];
  const noDitto = new Uint8Array(more);
  from.set(places.from);
  lines.set(places.lines);
  noDitto.set(places.noDitto);
  Object.assign(places, { from, lines, noDitto });
}
