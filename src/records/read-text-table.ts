import Papa from "papaparse";
import { type Notice, notice } from "../core/notice.js";
import { decodeText } from "./decode-text.js";
import type { RawGrid } from "./raw-table.js";
import { scanDelimited } from "./scan-delimited.js";

/**
 * Reads a delimited text file: encoding and delimiter are found out (and told
 * where they are not UTF-8 and a comma), quotes and line ends understood, lines
 * counted as an editor counts them.
 */
export function readTextGrid(file: string, bytes: Uint8Array): RawGrid {
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
  const from = /^\ufeff?sep=.\r?\n/.exec(clean)?.[0].length ?? 0;
  return {
    file,
    rows: scanDelimited(clean.slice(from), delimiter, from === 0 ? 1 : 2),
    firstColumn: 0,
    notices,
  };
}

/**
 * Comma, semicolon, tab or bar: the mark that cuts most lines alike; papaparse's
 * guess where the first line has several of them.
 */
export function guessDelimiter(text: string): string {
  const sep = /^\ufeff?sep=(.)\r?\n/.exec(text);
  if (sep !== null) return sep[1]!;
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n|\r|\n/)
    .filter((line) => line.trim() !== "")
    .slice(0, 40)
    .map((line) => line.replace(/"[^"]*"/g, ""));
  const counts = [",", ";", "\t", "|"].map((mark) => {
    const cuts = lines.map((line) => line.split(mark).length - 1);
    return { mark, first: cuts[0] ?? 0, alike: alike(cuts) };
  });
  const present = counts.filter((c) => c.first > 0);
  // The first line may be a title, without a mark or with one that the table has not.
  if (present.length < 2) {
    const best = counts.sort((a, b) => b.alike - a.alike)[0]!;
    return best.alike > 0 ? best.mark : ",";
  }
  const guess = Papa.parse<string[]>(text.slice(0, 100_000), {
    preview: 50,
    delimitersToGuess: present.map((c) => c.mark),
  });
  return guess.meta.delimiter ?? present.sort((a, b) => b.first - a.first)[0]!.mark;
}

/** Cells that a mark gives in lines that it cuts alike: lines times cuts, the most there is. */
function alike(cuts: readonly number[]): number {
  const times = new Map<number, number>();
  for (const n of cuts) if (n > 0) times.set(n, (times.get(n) ?? 0) + 1);
  return Math.max(0, ...[...times].map(([n, lines]) => n * lines));
}
