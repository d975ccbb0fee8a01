import type { DraftColumn } from "./draft-columns.js";
import type { DraftRow, DraftTable } from "./draft-row.js";
import type { Rows } from "./rows.js";

/**
 * Finds the earlier row that holds the same in some columns: a table of hashes, so
 * that a million rows need no text of their own to be told apart.
 */
export class RowIndex {
  /** One more than the place of the row that is held; 0 where there is none. */
  private readonly slots: Int32Array;
  private readonly columns = new Map<DraftTable, readonly (DraftColumn | undefined)[]>();

  constructor(
    private readonly keys: readonly string[],
    private readonly rows: Rows<DraftRow>,
  ) {
    this.slots = new Int32Array(2 ** Math.ceil(Math.log2(2 * rows.length + 2)));
  }

  /** The first row with the values of the one at a place, or null and that is the first from now on. */
  earlier(i: number): DraftRow | null {
    const row = this.rows.at(i)!;
    const mask = this.slots.length - 1;
    const own = this.columnsOf(row.of);
    let hash = 0;
    for (const column of own)
      hash = Math.imul(hash ^ (column === undefined ? 0 : column.hashAt(row.at)), 0x85ebca6b) ^ 7;
    hash = Math.imul(hash ^ (hash >>> 15), 0xc2b2ae35);
    for (let slot = (hash ^ (hash >>> 13)) & mask; ; slot = (slot + 1) & mask) {
      const place = this.slots[slot]!;
      if (place === 0) {
        this.slots[slot] = i + 1;
        return null;
      }
      const other = this.rows.at(place - 1)!;
      if (sameIn(own, row.at, this.columnsOf(other.of), other.at)) return other;
    }
  }

  private columnsOf(table: DraftTable): readonly (DraftColumn | undefined)[] {
    let own = this.columns.get(table);
    if (own === undefined) {
      own = this.keys.map((key) => table.columns.get(key));
      this.columns.set(table, own);
    }
    return own;
  }
}

/** Whether two rows of one kind of table hold the same in everything. */
export function sameContent(a: DraftRow, b: DraftRow): boolean {
  return sameIn([...a.of.columns.values()], a.at, [...b.of.columns.values()], b.at);
}

function sameIn(
  columns: readonly (DraftColumn | undefined)[],
  row: number,
  others: readonly (DraftColumn | undefined)[],
  at: number,
): boolean {
  for (let i = 0; i < columns.length; i++) {
    const column = columns[i];
    if (column !== undefined && !column.same(row, others[i]!, at)) return false;
  }
  return true;
}
