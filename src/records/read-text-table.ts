import Papa from "papaparse";
import { type Notice, notice } from "../core/notice.js";
import { decodeText } from "./decode-text.js";
import type { RawTable } from "./raw-table.js";
import { scanDelimited } from "./scan-delimited.js";

/**
 * Reads a delimited text file: encoding and delimiter are found out (and told
 * where they are not UTF-8 and a comma), quotes and line ends understood, lines
 * counted as an editor counts them.
 */
export function readTextTable(file: string, bytes: Uint8Array): RawTable {
  const { text, encoding } = decodeText(bytes);
  const notices: Notice[] = [];
  if (encoding === "Windows-1252")
    notices.push(notice("records-encoding-assumed", "caution", { encoding }, { file }));
  const clean = text.includes("\0") ? text.replaceAll("\0", "") : text;
  if (clean.length !== text.length)
    notices.push(
      notice("records-zero-bytes", "caution", { count: text.length - clean.length }, { file }),
    );
  const delimiter = guessDelimiter(clean);
  const rows = scanDelimited(clean, delimiter);
  const first = rows.findIndex((row) => row.cells.some((cell) => cell.trim() !== ""));
  const header = rows[first];
  if (header === undefined || header.broken !== undefined)
    return {
      file,
      header: [],
      headerLine: header?.line ?? 1,
      rows: rows.slice(first + 1),
      notices,
    };
  return {
    file,
    header: header.cells,
    headerLine: header.line,
    rows: rows.slice(first + 1),
    notices,
  };
}

/** Comma, semicolon, tab or bar: the header decides where it can, papaparse's guess else. */
export function guessDelimiter(text: string): string {
  const sep = /^\ufeff?sep=(.)\r?\n/.exec(text);
  if (sep !== null) return sep[1]!;
  const header = /^\s*([^\r\n]*)/.exec(text)?.[1]?.replace(/"[^"]*"/g, "") ?? "";
  const counts = [",", ";", "\t", "|"].map((mark) => ({
    mark,
    count: header.split(mark).length - 1,
  }));
  const present = counts.filter((c) => c.count > 0);
  if (present.length === 1) return present[0]!.mark;
  if (present.length === 0) return ",";
  const guess = Papa.parse<string[]>(text.slice(0, 100_000), {
    preview: 50,
    delimitersToGuess: present.map((c) => c.mark),
  });
  return guess.meta.delimiter ?? present.sort((a, b) => b.count - a.count)[0]!.mark;
}
