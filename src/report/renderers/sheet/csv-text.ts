import type { SheetCell } from "./sheet-cells.js";

/**
 * Rows as CSV after RFC 4180: UTF-8 with a byte order mark, so that spreadsheet
 * programs read names right, commas, decimal points, CRLF.
 *
 * A text that a spreadsheet would take for a formula gets an apostrophe in
 * front (the measure that the Open Worldwide Application Security Project
 * describes under "CSV injection"); numbers are numbers and keep their sign.
 *
 * @example csvText([["name", "mass_g"], ["=1+1", 2]]) // "\ufeffname,mass_g\r\n'=1+1,2\r\n"
 */
export function csvText(rows: readonly (readonly SheetCell[])[]): string {
  return `\ufeff${rows.map((row) => `${row.map(field).join(",")}\r\n`).join("")}`;
}

function field(cell: SheetCell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  const safe = guarded(cell);
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A text that begins like a formula, also behind blanks or wide look-alikes, is marked as text. */
export function guarded(text: string): string {
  return /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r|]/u.test(text) ? `'${text}` : text;
}
