import { type Notice, notice } from "../core/notice.js";
import { feedingDayOf, numberOfDate } from "../units/calendar.js";
import { convert } from "../units/quantity.js";
import { ASK, dayOfBucket } from "./day-of-bucket.js";
import { type DayTotals, dayTotals } from "./day-totals.js";
import { decodeText } from "./decode-text.js";
import { type NameTable, nameTable } from "./name-table.js";
import { type ColumnReading, placed, readCell } from "./read-cell.js";
import { scanRow } from "./scan-delimited.js";
import type { SetAsideRow, TableName } from "./study.js";

/** Which columns of a file are added up, and how they are read. */
export interface TotalPlan {
  readonly file: string;
  readonly table: TableName;
  readonly delimiter: string;
  readonly columns: number;
  readonly animal: { readonly index: number; readonly how: ColumnReading };
  readonly at: { readonly index: number; readonly how: ColumnReading };
  readonly amount: { readonly index: number; readonly how: ColumnReading };
  /** A column of words that keeps groups apart, where there is one. */
  readonly kind: { readonly index: number; readonly how: ColumnReading } | null;
  /** Names that are allowed; null: any. */
  readonly knownAnimals: ReadonlySet<string> | null;
  /** Called for every row set aside. */
  readonly onSetAside: (row: SetAsideRow) => void;
}

/** Takes bytes in pieces of any size and adds rows up as they become whole. */
export interface RowTotals {
  /** Reads whole rows of `bytes[0, end)`; returns how many bytes it is done with. */
  take(bytes: Uint8Array, end: number, isLast: boolean): number;
  readonly animals: NameTable;
  readonly kinds: NameTable;
  readonly totals: DayTotals;
  readonly counts: { rowsIn: number; accepted: number; setAside: number };
}

/** A row longer than this is broken: an unclosed quote, or no table at all. */
export const LONGEST_ROW = 1 << 20;
/** How far a quoted cell is followed before its line is called broken. */
const LONGEST_QUOTE = 1 << 16;

/**
 * Adds up amounts by animal, kind and feeding day from the bytes of a delimited
 * file, in memory that does not grow with its rows. The common form of a row
 * (plain cells, `YYYY-MM-DD HH:MM[:SS][Z]`, a plain number) is read straight
 * from its bytes; every other row goes, cell by cell, through the same readers
 * that small files go through, so both accept and set aside alike.
 */
export function totalRows(plan: TotalPlan, firstLine: number): RowTotals {
  const animals = nameTable();
  const kinds = nameTable();
  if (plan.kind === null) kinds.add("");
  const totals = dayTotals();
  const counts = { rowsIn: 0, accepted: 0, setAside: 0 };
  const allowed: boolean[] = [];
  const days = dayOfBucket(plan.at.how.zone, plan.at.how.startHour);
  const dates = new Map<number, number>();

  const comma = plan.delimiter.charCodeAt(0);
  const mark = plan.amount.how.decimal === "comma" ? 44 : 46;
  const unit = plan.amount.how.unit;
  const scaled = unit !== null && unit !== "g" ? unit : null;
  const max = plan.amount.how.column.max ?? Number.POSITIVE_INFINITY;
  const iAnimal = plan.animal.index;
  const iAt = plan.at.index;
  const iAmount = plan.amount.index;
  const iKind = plan.kind?.index ?? -1;
  const width = plan.columns;
  let line = firstLine;
  /** Inside a row that was given up as too long, up to its line end. */
  let skipping = false;

  const take = (b: Uint8Array, end: number, isLast: boolean): number => {
    let p = 0;
    while (p < end) {
      if (skipping) {
        const close = b.subarray(0, end).indexOf(10, p);
        if (close < 0) return end;
        skipping = false;
        line++;
        p = close + 1;
        continue;
      }
      // Split the row into cells, as long as it is plain.
      let column = 0;
      let start = p;
      let aFrom = -1;
      let aTo = -1;
      let tFrom = -1;
      let tTo = -1;
      let mFrom = -1;
      let mTo = -1;
      let kFrom = -1;
      let kTo = -1;
      let plain = true;
      let q = p;
      let closed = false;
      for (; q < end; q++) {
        const c = b[q]!;
        if (c > 44 && c !== comma) continue;
        if (c !== comma && c !== 10) {
          // A quote opening a cell, a bare carriage return, a zero byte: not plain.
          if (c === 34 ? q === start : c === 13 ? b[q + 1] !== 10 : c === 0) {
            plain = false;
            if (c === 13 && q + 1 === end && !isLast) return p;
            break;
          }
          continue;
        }
        const to = c === 10 && q > start && b[q - 1] === 13 ? q - 1 : q;
        if (column === iAnimal) {
          aFrom = start;
          aTo = to;
        } else if (column === iAt) {
          tFrom = start;
          tTo = to;
        } else if (column === iAmount) {
          mFrom = start;
          mTo = to;
        } else if (column === iKind) {
          kFrom = start;
          kTo = to;
        }
        column++;
        start = q + 1;
        if (c === 10) {
          closed = true;
          break;
        }
      }
      if (plain && !closed) {
        if (!isLast && end - p <= LONGEST_ROW) return p;
        plain = false;
      }
      if (plain && column <= width && aFrom >= 0 && tFrom >= 0 && mFrom >= 0) {
        const day = dayIn(b, tFrom, tTo);
        if (day !== ASK) {
          const amount = amountIn(b, mFrom, mTo);
          if (amount > 0) {
            const animal = animals.find(b, aFrom, aTo);
            const kind = iKind < 0 ? 0 : kFrom < 0 ? -1 : kinds.find(b, kFrom, kTo);
            if (animal >= 0 && kind >= 0 && allowed[animal]) {
              totals.add(animal, kind, day, amount);
              counts.rowsIn++;
              counts.accepted++;
              line++;
              p = q + 1;
              continue;
            }
          }
        }
      }
      const next = slow(b, p, end, isLast);
      if (next < 0) return p;
      p = next;
    }
    return p;
  };

  /** The feeding day of a plainly written time, or ASK. */
  function dayIn(b: Uint8Array, from: number, to: number): number {
    const length = to - from;
    if (length < 16 || length > 20 || length === 18) return ASK;
    if (b[from + 4] !== 45 || b[from + 7] !== 45 || b[from + 13] !== 58) return ASK;
    const gap = b[from + 10]!;
    if (gap !== 32 && gap !== 84) return ASK;
    const year = four(b, from);
    const month = two(b, from + 5);
    const date = two(b, from + 8);
    const hour = two(b, from + 11);
    const minute = two(b, from + 14);
    if (year < 0 || month < 0 || date < 0 || hour < 0 || hour > 23 || minute < 0 || minute > 59)
      return ASK;
    if (length >= 19) {
      const second = two(b, from + 17);
      if (b[from + 16] !== 58 || second < 0 || second > 59) return ASK;
    }
    const utc = length === 17 || length === 20;
    if (utc && b[to - 1] !== 90) return ASK;
    const key = (year * 16 + month) * 32 + date;
    let day = dates.get(key);
    if (day === undefined) {
      const ms = Date.UTC(year, month - 1, date);
      const back = new Date(ms);
      const real = back.getUTCMonth() === month - 1 && back.getUTCDate() === date;
      day = real && year >= 1970 && year <= 2099 ? ms / 86_400_000 : ASK;
      if (dates.size > 100_000) dates.clear();
      dates.set(key, day);
    }
    if (day === ASK) return ASK;
    const bucket = day * 96 + hour * 4 + ((minute / 15) | 0);
    return utc ? days.utc(bucket) : days.local(bucket);
  }

  /** A plain positive number in grams, or -1. */
  function amountIn(b: Uint8Array, from: number, to: number): number {
    if (to - from > 15 || to === from) return -1;
    let value = 0;
    let decimals = -1;
    for (let i = from; i < to; i++) {
      const c = b[i]!;
      if (c >= 48 && c <= 57) {
        value = value * 10 + (c - 48);
        if (decimals >= 0) decimals++;
      } else if (c === mark && decimals < 0 && i > from) decimals = 0;
      else return -1;
    }
    // At most 15 digits and a small power of ten: the quotient is the nearest double.
    if (decimals > 0) value /= tens[decimals]!;
    if (scaled !== null) value = convert(value, scaled, "g");
    return value <= max ? value : -1;
  }

  /** Any other row, by way of text; -1 when more bytes are needed. */
  function slow(b: Uint8Array, p: number, end: number, isLast: boolean): number {
    // One character for each byte, so that places in text and bytes are the same.
    for (let span = 4096; ; span *= 4) {
      const to = Math.min(end, p + span);
      const text = latin1(b, p, to);
      const read = scanRow(text, { position: 0, line }, plan.delimiter, width);
      const open = read.next.position >= text.length && !text.endsWith("\n");
      const more = to < end || !isLast;
      const limit = open ? LONGEST_ROW : read.endedInQuote ? LONGEST_QUOTE : 0;
      if (more && to - p < limit) {
        if (to < end) continue;
        return -1;
      }
      if (more && open) {
        finish([text.slice(0, 200)], notice("records-row-too-long", "problem"), line);
        skipping = true;
        return to;
      }
      if (read.row !== null) finish(read.row.cells, read.row.broken ?? null, read.row.line);
      line = read.next.line;
      return p + read.next.position;
    }
  }

  function finish(bytesAsText: readonly string[], broken: Notice | null, at: number): void {
    const cells = bytesAsText.map(decoded);
    if (broken === null && cells.every((cell) => cell.trim() === "")) return;
    counts.rowsIn++;
    const place = { file: plan.file, table: plan.table, line: at };
    const setAside = (
      column: string | null,
      value: string | null,
      reason: Notice,
      todo: Notice,
    ) => {
      counts.setAside++;
      plan.onSetAside({
        table: plan.table,
        file: plan.file,
        line: at,
        column,
        value,
        reason,
        suggestion: todo,
        raw: cells,
      });
    };
    if (broken !== null) {
      const todo = notice("suggest-close-quote", "info", {}, place);
      setAside(null, cells[0] ?? null, { ...broken, place }, todo);
      return;
    }
    const extra = cells.slice(width).find((cell) => cell.trim() !== "");
    if (extra !== undefined) {
      setAside(
        null,
        extra,
        notice("records-too-many-cells", "problem", { cells: cells.length, columns: width }, place),
        notice("suggest-quote-delimiter", "info", {}, place),
      );
      return;
    }
    const values: unknown[] = [];
    for (const { index, how } of [plan.animal, plan.at, plan.amount]) {
      const cell = cells[index] ?? "";
      const outcome = readCell(cell, how);
      if ("reason" in outcome) {
        const here = { ...place, column: how.column.name };
        setAside(
          how.column.name,
          cell,
          placed(outcome.reason, "problem", here),
          placed(outcome.suggestion, "info", here),
        );
        return;
      }
      values.push(outcome.value);
    }
    const [name, time, amount] = values as [string, number, number];
    if (plan.knownAnimals !== null && !plan.knownAnimals.has(name)) {
      const here = { ...place, column: "animal_id" };
      const which = { animal: name, close: null };
      setAside(
        "animal_id",
        name,
        notice("records-unknown-animal", "problem", which, here),
        notice("suggest-add-animal", "info", which, here),
      );
      return;
    }
    const animal = animals.add(name);
    allowed[animal] = true;
    const { zone, startHour } = plan.at.how;
    const kind = plan.kind === null ? 0 : kinds.add(word(cells[plan.kind.index], plan.kind.how));
    totals.add(animal, kind, numberOfDate(feedingDayOf(time, zone, startHour)), amount);
    counts.accepted++;
  }

  return { take, animals, kinds, totals, counts };
}

function word(cell: string | undefined, how: ColumnReading): string {
  const outcome = readCell(cell ?? "", how);
  return "value" in outcome && typeof outcome.value === "string" ? outcome.value : "";
}

const tens = Array.from({ length: 16 }, (_, i) => 10 ** i);

function two(b: Uint8Array, i: number): number {
  const a = b[i]! - 48;
  const c = b[i + 1]! - 48;
  return a >= 0 && a <= 9 && c >= 0 && c <= 9 ? a * 10 + c : -1;
}

function four(b: Uint8Array, i: number): number {
  const a = two(b, i);
  const c = two(b, i + 2);
  return a < 0 || c < 0 ? -1 : a * 100 + c;
}

function latin1(b: Uint8Array, from: number, to: number): string {
  return Buffer.from(b.buffer, b.byteOffset + from, to - from).toString("latin1");
}

/** Text of bytes that were kept one to a character. */
function decoded(cell: string): string {
  for (let i = 0; i < cell.length; i++)
    if (cell.charCodeAt(i) > 127) return decodeText(Buffer.from(cell, "latin1")).text;
  return cell;
}
