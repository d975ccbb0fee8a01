import { notice } from "../../core/notice.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { cellOf } from "../text-row.js";
import { onlyText } from "./changed-cells.js";

/**
 * A heading that stands again further down (a new page, months pasted below
 * each other) is no record: it and a title right above it are left out, counted
 * and told.
 */
export function leaveOutRepeatedHeadings(raw: RawTable): RawTable {
  const plain = (cells: readonly string[]) =>
    cells
      .map((cell) => cell.trim().toLowerCase())
      .join("\n")
      .trimEnd();
  const heading = plain(raw.header);
  const first = raw.header
    .find((cell) => cell.trim() !== "")
    ?.trim()
    .toLowerCase();
  if (first === undefined || heading.split("\n").length < 2) return raw;
  const firstAt = raw.header.findIndex((cell) => cell.trim() !== "");
  const startsAlike = (cell: string) =>
    cell.length >= first.length && cell.trim().toLowerCase() === first;
  const again = (row: RawRow) =>
    row.broken === undefined && startsAlike(cellOf(row, firstAt)) && plain(row.cells) === heading;
  const out = new Set<number>();
  raw.rows.forEach((row, i) => {
    if (!again(row)) return;
    out.add(i);
    for (let t = i - 1; t >= 0 && isTitle(raw.rows.at(t)!); t--) out.add(t);
  });
  if (out.size === 0) return raw;
  const lines = [...out].map((i) => raw.rows.at(i)!.line);
  return {
    ...raw,
    rows: raw.rows.filter((_, i) => !out.has(i)),
    notices: [
      ...raw.notices,
      notice(
        "records-headings-repeated",
        "info",
        { count: lines.length, lines: lines.slice(0, 12) },
        { file: raw.file },
      ),
    ],
  };
}

/** One text in words, above the heading it is a title of. */
const isTitle = (row: RawRow) => /\p{L}{2}/u.test(onlyText(row) ?? "");
