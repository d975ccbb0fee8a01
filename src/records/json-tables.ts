import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import type { DecimalMark } from "../units/read-quantity.js";
import { decodeText } from "./decode-text.js";
import { depthOf } from "./json-depth.js";
import type { RawGrid, RawTable } from "./raw-table.js";
import { cellText } from "./sheet-tables.js";

/**
 * Reads a table kept as JSON: a list of objects whose keys are the header, or
 * a list of lists whose first is the header. Anything nested in a cell becomes
 * its JSON text, so that it is set aside and not lost.
 *
 * @throws UsageError when it is no JSON of that shape, or nested too deep.
 */
export function readJsonTable(file: string, bytes: Uint8Array, decimal: DecimalMark): RawTable {
  const { text } = decodeText(bytes);
  const refuse = (came: string): never => {
    throw new UsageError({
      needed: "a list of rows, each an object with the column names as keys",
      came,
      where: file,
      todo: 'Write it like [ { "animal_id": "P1", "at": "2025-05-02 06:10", "mass_g": 2350 } ].',
    });
  };
  if (depthOf(text) > sizeLimits.jsonLevels)
    refuse(`it is nested deeper than ${sizeLimits.jsonLevels} levels`);
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch (error) {
    refuse(
      `it cannot be read as JSON (${shortened((error as Error).message, sizeLimits.repeatedLetters)})`,
    );
  }
  if (!Array.isArray(read)) return refuse("something else came");
  const cell = (value: unknown): string => {
    if (value === null || value === undefined) return "";
    if (typeof value === "number" || typeof value === "string") return cellText(value, decimal);
    return typeof value === "boolean" ? (value ? "yes" : "no") : JSON.stringify(value);
  };
  const rows = read as unknown[];
  if (Array.isArray(rows[0])) {
    const [header, ...rest] = rows;
    return {
      file,
      header: (header as unknown[]).map(cell),
      headerLine: 1,
      rows: rest.map((row, i) => ({
        line: i + 2,
        cells: Array.isArray(row) ? row.map(cell) : [cell(row)],
      })),
      notices: [],
    };
  }
  const names = new Map<string, number>();
  for (const row of rows)
    if (typeof row === "object" && row !== null)
      for (const key of Object.keys(row)) if (!names.has(key)) names.set(key, names.size);
  return {
    file,
    header: [...names.keys()],
    headerLine: 1,
    rows: rows.map((row, i) => {
      if (typeof row !== "object" || row === null) return { line: i + 1, cells: [cell(row)] };
      const cells = new Array<string>(names.size).fill("");
      for (const [key, value] of Object.entries(row)) cells[names.get(key)!] = cell(value);
      return { line: i + 1, cells };
    }),
    notices: [],
  };
}

/** The same as a grid, the keys being its heading, for what study.json says about its layout. */
export function readJsonGrid(file: string, bytes: Uint8Array, decimal: DecimalMark): RawGrid {
  const { header, rows } = readJsonTable(file, bytes, decimal);
  return { file, rows: [{ line: 0, cells: header }, ...rows], firstColumn: 0, notices: [] };
}
