import { type Notice, notice } from "../core/notice.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { feedingDayOf, numberOfDate } from "../units/calendar.js";
import { convert } from "../units/quantity.js";
import { smallestMeasured } from "../units/read-quantity.js";
import { ASK } from "./day-of-bucket.js";
import { type DayTotals, dayTotals } from "./day-totals.js";
import { decodeText } from "./decode-text.js";
import { type NameTable, nameTable } from "./name-table.js";
import { plainClock, plainDay, plainNumber } from "./plain-cells.js";
import { readTotalRow, type TotalPlan } from "./read-total-row.js";
import { scanRow } from "./scan-delimited.js";
import { MORE_NEEDED, NOT_PLAIN, plainRows } from "./split-plain-row.js";

/** Takes bytes in pieces of any size and adds rows up as they become whole. */
export interface RowTotals {
  /** Reads whole rows of `bytes[0, end)`; returns how many bytes it is done with. */
  take(bytes: Uint8Array, end: number, isLast: boolean): number;
  readonly animals: NameTable;
  readonly kinds: NameTable;
  readonly totals: DayTotals;
  readonly counts: { rowsIn: number; accepted: number; setAside: number };
}

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
  const clock = plainClock(plan.at.how.zone, plan.at.how.startHour);

  // Where times are in doubt, each row is read by way of text.
  const sure = plan.doubtTime === null;
  const mark = plan.amount.how.decimal === "comma" ? 44 : 46;
  const amountOf = gramsOf(plan);
  const hasKind = plan.kind !== null;
  const wanted = [plan.animal.index, plan.at.index, plan.amount.index, plan.kind?.index ?? -1];
  const plain = plainRows(plan.delimiter.charCodeAt(0), wanted, sizeLimits.rowBytes);
  const { cells } = plain;
  const width = plan.columns;
  let line = firstLine;
  /** Inside a row that was given up as too long, up to its line end. */
  let skipping = false;

  const take = (b: Uint8Array, end: number, isLast: boolean): number => {
    let p = 0;
    while (p < end) {
      const next = skipping ? behindLine(b, p, end) : behindRow(b, p, end, isLast);
      if (next < 0) return p;
      p = next;
    }
    return p;
  };

  /** Passes over the rest of a row that was given up. */
  function behindLine(b: Uint8Array, p: number, end: number): number {
    const close = b.subarray(0, end).indexOf(10, p);
    if (close < 0) return end;
    skipping = false;
    line++;
    return close + 1;
  }

  /** Takes one row and answers where the next begins; -1 when more bytes are needed. */
  function behindRow(b: Uint8Array, p: number, end: number, isLast: boolean): number {
    const next = plain.cut(b, p, end, isLast);
    if (next === MORE_NEEDED) return -1;
    if (next === NOT_PLAIN || !sure || plain.columns > width || !addPlain(b))
      return slow(b, p, end, isLast);
    line++;
    return next;
  }

  /** Adds the row that was cut last, where all of it is plain and its animal known; else answers false. */
  function addPlain(b: Uint8Array): boolean {
    if (cells[0]! < 0 || cells[2]! < 0 || cells[4]! < 0) return false;
    const day = plainDay(b, cells[2]!, cells[3]!, clock);
    if (day === ASK) return false;
    const amount = amountOf(plainNumber(b, cells[4]!, cells[5]!, mark));
    if (!(amount > 0)) return false;
    const animal = animals.find(b, cells[0]!, cells[1]!);
    const kind = !hasKind ? 0 : cells[6]! < 0 ? -1 : kinds.find(b, cells[6]!, cells[7]!);
    if (animal < 0 || kind < 0 || !allowed[animal]) return false;
    totals.add(animal, kind, day, amount);
    counts.rowsIn++;
    counts.accepted++;
    return true;
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
      const limit = open ? sizeLimits.rowBytes : read.endedInQuote ? sizeLimits.quoteBytes : 0;
      if (more && to - p < limit) {
        if (to < end) continue;
        return -1;
      }
      if (more && open) {
        finish(
          [shortened(text, sizeLimits.repeatedLetters)],
          notice("records-row-too-long", "problem"),
          line,
        );
        skipping = true;
        return to;
      }
      if (read.row !== null) finish(read.row.cells, read.row.broken ?? null, read.row.line);
      line = read.next.line;
      return p + read.next.position;
    }
  }

  function finish(bytesAsText: readonly string[], broken: Notice | null, at: number): void {
    const read = readTotalRow(bytesAsText.map(decoded), broken, at, plan);
    if (read === null) return;
    counts.rowsIn++;
    if ("reason" in read) {
      counts.setAside++;
      plan.onSetAside(read);
      return;
    }
    const animal = animals.add(read.animal);
    allowed[animal] = true;
    const day = numberOfDate(feedingDayOf(read.at, plan.at.how.zone, plan.at.how.startHour));
    totals.add(animal, plan.kind === null ? 0 : kinds.add(read.kind), day, read.amount);
    counts.accepted++;
  }

  return { take, animals, kinds, totals, counts };
}

/** Grams of a number as written; -1 where it is no amount. */
function gramsOf({ amount }: TotalPlan): (value: number) => number {
  const { unit, column } = amount.how;
  const scaled = unit !== null && unit !== "g" ? unit : null;
  const max = column.max ?? Number.POSITIVE_INFINITY;
  return (value) => {
    const grams = scaled === null || value <= 0 ? value : convert(value, scaled, "g");
    return grams <= max && (grams >= smallestMeasured || grams === 0) ? grams : -1;
  };
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
