/** The row is not plain: it is to be read by way of text. */
export const NOT_PLAIN = -1;
/** The row may go on beyond the bytes that are there. */
export const MORE_NEEDED = -2;

/** Cuts plain rows out of bytes: no quotes, no bare carriage returns, no zero bytes. */
export interface PlainRows {
  /** Where the cells wanted of the row cut last begin and end, two numbers each; -1 where it has none. */
  readonly cells: Int32Array;
  /** How many cells that row has. */
  columns: number;
  /** Cuts the row that begins at a place; the place behind it, NOT_PLAIN or MORE_NEEDED. */
  cut(b: Uint8Array, from: number, end: number, isLast: boolean): number;
}

/**
 * @param wanted columns whose cells are asked for, in the order of `cells`; -1 for none.
 * @param longest a row that is not closed within so many bytes is not plain.
 */
export function plainRows(
  delimiter: number,
  wanted: readonly number[],
  longest: number,
): PlainRows {
  const slots = new Int32Array(Math.max(0, ...wanted) + 1).fill(-1);
  wanted.forEach((column, i) => {
    if (column >= 0 && slots[column]! < 0) slots[column] = 2 * i;
  });
  const cells = new Int32Array(2 * wanted.length);
  const rows: PlainRows = {
    cells,
    columns: 0,
    cut(b, from, end, isLast) {
      cells.fill(-1);
      let column = 0;
      let start = from;
      for (let q = from; q < end; q++) {
        const c = b[q]!;
        if (c > COMMA && c !== delimiter) continue;
        if (c !== delimiter && c !== LF) {
          if (isPlainMark(b, q, c, start)) continue;
          return c === CR && q + 1 === end && !isLast ? MORE_NEEDED : NOT_PLAIN;
        }
        const slot = column < slots.length ? slots[column]! : -1;
        if (slot >= 0) {
          cells[slot] = start;
          cells[slot + 1] = c === LF && q > start && b[q - 1] === CR ? q - 1 : q;
        }
        column++;
        start = q + 1;
        if (c === LF) {
          rows.columns = column;
          return start;
        }
      }
      return !isLast && end - from <= longest ? MORE_NEEDED : NOT_PLAIN;
    },
  };
  return rows;
}

/** Of bytes up to the comma: all but a quote that opens a cell, a bare carriage return and a zero byte. */
const isPlainMark = (b: Uint8Array, at: number, c: number, start: number) =>
  c === QUOTE ? at !== start : c === CR ? b[at + 1] === LF : c !== 0;

const COMMA = 44;
const QUOTE = 34;
const LF = 10;
const CR = 13;
