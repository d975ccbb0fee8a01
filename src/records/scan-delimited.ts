import { notice } from "../core/notice.js";
import type { RawRow } from "./raw-table.js";

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
export function scanDelimited(text: string, delimiter: string): RawRow[] {
  const rows: RawRow[] = [];
  const comma = delimiter.charCodeAt(0);
  const end = text.length;
  let position = 0;
  let line = 1;
  /** Cells of the first row: what a row that spans several lines is held against. */
  let width = 0;

  while (position < end) {
    const rowStart = position;
    const rowLine = line;
    const cells: string[] = [];
    let broken = false;
    for (;;) {
      if (text.charCodeAt(position) === QUOTE) {
        const cell = readQuoted(position);
        if (cell === null) {
          broken = true;
          break;
        }
        cells.push(cell);
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
      if (position < end && text.charCodeAt(position) === comma) {
        position++;
        if (position < end) continue;
        cells.push("");
      }
      break;
    }
    if (line > rowLine && width > 0 && swallowsRows(cells)) broken = true;
    if (broken) {
      position = rowStart;
      line = rowLine;
      while (position < end && !isLineEnd(text.charCodeAt(position))) position++;
      rows.push({
        line: rowLine,
        cells: [text.slice(rowStart, position)],
        broken: notice("records-broken-quote", "problem"),
      });
    } else if (cells.length > 1 || cells[0] !== "" || position > rowStart) {
      rows.push({ line: rowLine, cells });
    }
    if (width === 0 && rows.length > 0) width = rows[0]!.cells.length;
    if (position < end) {
      if (text.charCodeAt(position) === CR && text.charCodeAt(position + 1) === LF) position++;
      position++;
      line++;
    }
  }
  return rows;

  /** Two stray quotes, lines apart, look like one cell with whole rows inside it. */
  function swallowsRows(cells: readonly string[]): boolean {
    if (cells.length !== width) return true;
    if (width < 3) return false;
    return cells.some((cell) =>
      cell
        .split(/\r\n|\r|\n/)
        .slice(1, -1)
        .some((inner) => inner.split(delimiter).length >= width),
    );
  }

  /** Reads a quoted cell and stands behind it, or returns null and says nothing. */
  function readQuoted(start: number): string | null {
    let from = start + 1;
    let cell = "";
    for (;;) {
      const close = text.indexOf('"', from);
      if (close < 0) return null;
      cell += text.slice(from, close);
      if (text.charCodeAt(close + 1) === QUOTE) {
        cell += '"';
        from = close + 2;
        continue;
      }
      const after = close + 1;
      const c = text.charCodeAt(after);
      if (after < end && c !== comma && !isLineEnd(c)) return null;
      for (let i = start; i < after; i++) {
        const d = text.charCodeAt(i);
        if (d === LF || (d === CR && text.charCodeAt(i + 1) !== LF)) line++;
      }
      position = after;
      return cell;
    }
  }
}

const QUOTE = 34;
const LF = 10;
const CR = 13;
const isLineEnd = (c: number) => c === LF || c === CR;
