import { notice } from "../core/notice.js";
import { maybeDitto } from "./layouts/ditto-marks.js";
import type { RawRow } from "./raw-table.js";
import type { RowText } from "./text-row.js";
import { type ScannedPlace, TextRows } from "./text-rows.js";

/**
 * Splits delimited text (RFC 4180 and what people make of it) into rows of
 * cells, each with the line on which it begins. Well-formed text gives what
 * papaparse gives (a test compares them). A quote that is never closed, or
 * closed in the middle of a cell, cannot swallow other rows: its line alone
 * comes back as broken, uncut, and reading goes on at the next line; so does a
 * quote whose cell would hold whole rows. Lines with nothing on them are no rows.
 *
 * @example scanDelimited("a,b\n1,\"2,3\"\n", ",") // cells ["a","b"] on line 1, ["1","2,3"] on line 2
 */
export function scanDelimited(text: string, delimiter: string, firstLine = 1): TextRows {
  const of: RowText = {
    text,
    delimiter,
    cut: (position) => scanRow(text, { position, line: 1 }, delimiter, 0).row!.cells,
  };
  let place: RowPlace = { position: 0, line: firstLine };
  let width = 0;
  return TextRows.of(of, (add) => {
    if (place.position >= text.length) return false;
    const plain = width > 0 ? plainRow(of, place) : null;
    if (plain !== null) {
      if (plain.row !== null) add(plain.row);
      place = plain.next;
      return true;
    }
    const { row, next } = scanRow(text, place, delimiter, width);
    if (row !== null) {
      add(row.broken === undefined ? { ...place, line: row.line, noDitto: false } : row);
      if (width === 0) width = row.cells.length;
    }
    place = next;
    return true;
  });
}

/** A row without quotes, found by its end alone; null for any other. */
function plainRow(
  of: RowText,
  { position, line }: RowPlace,
): { readonly row: ScannedPlace | null; readonly next: RowPlace } | null {
  const { text, delimiter } = of;
  const mark = delimiter.charCodeAt(0);
  const end = text.length;
  let noDitto = true;
  let start = position;
  let stop = position;
  let c = 0;
  for (; stop < end; stop++) {
    c = text.charCodeAt(stop);
    if (c > CR && c !== mark) {
      if (stop > start) continue;
      if (c === QUOTE) return null;
      if (noDitto && maybeDitto(text, stop)) noDitto = false;
    } else if (c === mark) start = stop + 1;
    else if (c === LF || c === CR) break;
    else if (stop === start) noDitto = false;
  }
  const row = stop > position ? { position, line, noDitto } : null;
  const pair = c === CR && text.charCodeAt(stop + 1) === LF;
  return {
    row,
    next:
      stop < end ? { position: stop + (pair ? 2 : 1), line: line + 1 } : { position: end, line },
  };
}

/** Where a row begins: index in the text and line in the file. */
export interface RowPlace {
  readonly position: number;
  readonly line: number;
}

/** A row, or null for a line with nothing on it, and where the next one begins. */
export interface ScannedRow {
  readonly row: RawRow | null;
  readonly next: RowPlace;
  /** The text ended inside a quoted cell: with more text it might close. */
  readonly endedInQuote: boolean;
}

/**
 * Reads one row. `width` is the number of cells of the header (0: not known),
 * against which a row that spans several lines is held.
 */
export function scanRow(
  text: string,
  start: RowPlace,
  delimiter: string,
  width: number,
): ScannedRow {
  const comma = delimiter.charCodeAt(0);
  const end = text.length;
  const cells: string[] = [];
  let position = start.position;
  let line = start.line;
  let broken = false;
  let endedInQuote = false;
  for (;;) {
    if (text.charCodeAt(position) === QUOTE) {
      const quoted = readQuoted(text, position, comma);
      if (quoted === null || quoted === "open") {
        broken = true;
        endedInQuote = quoted === "open";
        break;
      }
      line += lineEnds(text, position, quoted.after);
      position = quoted.after;
      cells.push(quoted.cell);
    } else {
      let stop = position;
      while (stop < end) {
        const c = text.charCodeAt(stop);
        if (c === comma || c === LF || c === CR) break;
        stop++;
      }
      cells.push(text.slice(position, stop));
      position = stop;
    }
    if (position >= end || text.charCodeAt(position) !== comma) break;
    position++;
    if (position >= end) {
      cells.push("");
      break;
    }
  }
  if (!broken && line > start.line && width > 0) broken = swallowsRows(cells, delimiter, width);
  let row: RawRow | null = null;
  if (broken) {
    position = start.position;
    line = start.line;
    while (position < end && !isLineEnd(text.charCodeAt(position))) position++;
    const whole = text.slice(start.position, position);
    row = { line, cells: [whole], broken: notice("records-broken-quote", "problem") };
  } else if (position > start.position) row = { line: start.line, cells };
  if (position < end) {
    if (text.charCodeAt(position) === CR && text.charCodeAt(position + 1) === LF) position++;
    position++;
    line++;
  }
  return { row, next: { position, line }, endedInQuote };
}

/** Reads a quoted cell; null where its quote closes in the middle, "open" where it never does. */
function readQuoted(
  text: string,
  start: number,
  comma: number,
): { readonly cell: string; readonly after: number } | null | "open" {
  let from = start + 1;
  let cell = "";
  for (;;) {
    const close = text.indexOf('"', from);
    if (close < 0) return "open";
    cell += text.slice(from, close);
    if (text.charCodeAt(close + 1) === QUOTE) {
      cell += '"';
      from = close + 2;
      continue;
    }
    const after = close + 1;
    const c = text.charCodeAt(after);
    return after < text.length && c !== comma && !isLineEnd(c) ? null : { cell, after };
  }
}

/** Two stray quotes, lines apart, look like one cell with whole rows inside it. */
function swallowsRows(cells: readonly string[], delimiter: string, width: number): boolean {
  if (cells.length !== width) return true;
  if (width < 3) return false;
  return cells.some((cell) =>
    cell
      .split(/\r\n|\r|\n/)
      .slice(1, -1)
      .some((inner) => inner.split(delimiter).length >= width),
  );
}

function lineEnds(text: string, from: number, to: number): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    const c = text.charCodeAt(i);
    if (c === LF || (c === CR && text.charCodeAt(i + 1) !== LF)) count++;
  }
  return count;
}

const QUOTE = 34;
const LF = 10;
const CR = 13;
const isLineEnd = (c: number) => c === LF || c === CR;
