import type { Table } from "./table.js";

/** Rows in their order, with more ways to look at them; a plain list is one as well. */
export interface Rows<Row> extends Table<Row> {
  forEach(use: (row: Row, i: number) => void): void;
  some(test: (row: Row, i: number) => boolean): boolean;
  every(test: (row: Row, i: number) => boolean): boolean;
  find(test: (row: Row, i: number) => boolean): Row | undefined;
  findIndex(test: (row: Row, i: number) => boolean): number;
  slice(from?: number, to?: number): Rows<Row>;
}

/**
 * Rows of which each is made when it is asked for: what is kept of a long table is
 * numbers, and an object lives only while somebody looks at it.
 */
export abstract class MadeRows<Row> implements Rows<Row> {
  abstract readonly length: number;

  /** The row at a place from 0 to the length, not included. */
  protected abstract made(i: number): Row;

  /** As of a list: places below nought count from the end. */
  at(i: number): Row | undefined {
    const place = i < 0 ? i + this.length : i;
    return place >= 0 && place < this.length ? this.made(place) : undefined;
  }

  *[Symbol.iterator](): Iterator<Row> {
    for (let i = 0; i < this.length; i++) yield this.made(i);
  }

  forEach(use: (row: Row, i: number) => void): void {
    for (let i = 0; i < this.length; i++) use(this.made(i), i);
  }

  map<T>(change: (row: Row, i: number) => T): T[] {
    const found = new Array<T>(this.length);
    for (let i = 0; i < this.length; i++) found[i] = change(this.made(i), i);
    return found;
  }

  flatMap<T>(change: (row: Row, i: number) => T | readonly T[]): T[] {
    const found: T[] = [];
    for (let i = 0; i < this.length; i++) {
      const own = change(this.made(i), i);
      if (Array.isArray(own)) for (const each of own as readonly T[]) found.push(each);
      else found.push(own as T);
    }
    return found;
  }

  filter(test: (row: Row, i: number) => boolean): Row[] {
    const found: Row[] = [];
    for (let i = 0; i < this.length; i++) {
      const row = this.made(i);
      if (test(row, i)) found.push(row);
    }
    return found;
  }

  findIndex(test: (row: Row, i: number) => boolean): number {
    for (let i = 0; i < this.length; i++) if (test(this.made(i), i)) return i;
    return -1;
  }

  find(test: (row: Row, i: number) => boolean): Row | undefined {
    const place = this.findIndex(test);
    return place < 0 ? undefined : this.made(place);
  }

  some(test: (row: Row, i: number) => boolean): boolean {
    return this.findIndex(test) >= 0;
  }

  every(test: (row: Row, i: number) => boolean): boolean {
    return this.findIndex((row, i) => !test(row, i)) < 0;
  }

  slice(from = 0, to = this.length): Rows<Row> {
    const end = Math.min(fromEnd(to, this.length), this.length);
    const found: Row[] = [];
    for (let i = fromEnd(from, this.length); i < end; i++) found.push(this.made(i));
    return found;
  }
}

/** Places of lists that stand one behind the other, as the rows of a table do file behind file. */
export class Stacked {
  readonly length: number;
  /** Where each list begins, and behind the last one. */
  private readonly begins: readonly number[];
  private last = 0;

  constructor(lengths: readonly number[]) {
    let n = 0;
    this.begins = [0, ...lengths.map((length) => (n += length))];
    this.length = n;
  }

  /** Which list a place of the whole lies in; found at once where it is that of the place before. */
  listOf(i: number): number {
    while (i < this.begins[this.last]!) this.last--;
    while (i >= this.begins[this.last + 1]!) this.last++;
    return this.last;
  }

  /** The same place, counted in its list. */
  placeIn(list: number, i: number): number {
    return i - this.begins[list]!;
  }
}

/** A place of a list; one below nought counts from the end. */
export const fromEnd = (place: number, length: number) =>
  place < 0 ? Math.max(0, place + length) : place;
