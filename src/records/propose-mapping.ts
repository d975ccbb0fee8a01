import { readQuantity } from "../units/read-quantity.js";
import { dateStyleOf, readDate, readTime } from "../units/read-time.js";
import { closestName } from "./closest-name.js";
import { type Column, tableColumns, tableNames } from "./columns.js";
import { headerWords } from "./header-words.js";
import { firstRows } from "./layouts/changed-cells.js";
import { clockOf } from "./layouts/clock-of.js";
import { dayNumberText } from "./layouts/day-numbers.js";
import { isDitto } from "./layouts/ditto-marks.js";
import { eatenOfOffered } from "./layouts/eaten-of-offered.js";
import type { Recognised } from "./layouts/recognised.js";
import { matchCount, readHeader } from "./match-headers.js";
import type { RawTable } from "./raw-table.js";
import type { StudyFile } from "./settings.js";
import type { TableName } from "./study.js";

/** A proposal: this header of this file may be our column. Nothing is used before a person agrees. */
export interface ColumnProposal {
  readonly table: TableName;
  readonly file: string;
  readonly column: string;
  /** Their header; two joined by " + " for a date and a time of day. */
  readonly header: string;
  /** 0 to 1: how well name and contents fit together. */
  readonly confidence: number;
  readonly required: boolean;
  readonly example: string;
}

/** A file that is named like no table, and the table that it may be. */
export interface TableProposal {
  readonly file: string;
  readonly table: TableName;
  readonly confidence: number;
  /** Required columns for which nothing was found. */
  readonly missing: readonly string[];
  readonly columns: readonly ColumnProposal[];
  /** How the file is laid out, step by step, and what speaks for each step. */
  readonly layout?: readonly Recognised[];
  /** Whether the file's name or study.json says already which table it is. */
  readonly named?: boolean;
}

/**
 * Proposes which header is which of our columns, from what it is called (words
 * in several languages, misspellings) and from what stands below it (times,
 * numbers, known words). `table` is tried alone when given, else every table.
 *
 * @example proposeMapping(raw, study)[0]?.columns.map((c) => `${c.header} -> ${c.column}`)
 */
export function proposeMapping(
  raw: RawTable,
  study: StudyFile,
  table?: TableName,
): TableProposal[] {
  const sample = firstRows(raw, 200);
  const cells = raw.header.map((_, i) =>
    sample
      .map((row) => (row.cells[i] ?? "").trim())
      .filter((cell) => cell !== "" && !isDitto(cell)),
  );
  return (table === undefined ? tableNames : [table])
    .map((name) => proposeTable(name, raw, cells, study))
    .filter((p) => p.confidence > 0)
    .sort((a, b) => b.confidence - a.confidence);
}

const LEAST = 0.45;

function proposeTable(
  table: TableName,
  raw: RawTable,
  cells: readonly (readonly string[])[],
  study: StudyFile,
): TableProposal {
  const columns = tableColumns[table];
  const scored = columns.flatMap((column) =>
    raw.header.map((header, index) => ({
      column,
      index,
      confidence: howWell(column, header, cells[index] ?? [], study),
    })),
  );
  scored.sort((a, b) => b.confidence - a.confidence);
  const taken = new Set<number>();
  const chosen = new Map<string, ColumnProposal>();
  // What a person has said comes first.
  for (const column of columns)
    for (const told of study.headers.get(`${table}.${column.name}`) ?? []) {
      const index = raw.header.findIndex((h) => readHeader(h).plain === readHeader(told).plain);
      if (index >= 0 && !taken.has(index)) scored.unshift({ column, index, confidence: 1 });
    }
  for (const { column, index, confidence } of scored) {
    if (confidence < LEAST || taken.has(index) || chosen.has(column.name)) continue;
    taken.add(index);
    chosen.set(column.name, {
      table,
      file: raw.file,
      column: column.name,
      header: raw.header[index]!.trim(),
      confidence,
      required: column.required === true,
      example: cells[index]?.[0] ?? "",
    });
  }
  // Animals known by nothing but their names have them for ids.
  const name = chosen.get("name");
  if (table === "animals" && name !== undefined && !chosen.has("animal_id")) {
    chosen.delete("name");
    chosen.set("animal_id", { ...name, column: "animal_id", required: true });
  }
  addTimeOfDay(chosen, raw, cells, taken);
  const required = columns.filter((c) => c.required);
  const missing = required.filter((c) => !chosen.has(c.name)).map((c) => c.name);
  const proposals = [...chosen.values()];
  const exact = matchCount(table, raw.header.map(readHeader), study);
  const sure = required.reduce((sum, c) => sum + (chosen.get(c.name)?.confidence ?? 0), 0);
  const known = proposals.reduce((sum, c) => sum + c.confidence, 0);
  const confidence =
    required.length === 0 || missing.length === required.length
      ? 0
      : (0.7 * sure) / required.length +
        (0.3 * (known + exact.matched)) / Math.max(1, raw.header.length + exact.matched);
  return { file: raw.file, table, confidence, missing, columns: proposals };
}

/** A column of dates for a time, and another of clock times: both together are the time. */
function addTimeOfDay(
  chosen: Map<string, ColumnProposal>,
  raw: RawTable,
  cells: readonly (readonly string[])[],
  taken: ReadonlySet<number>,
): void {
  for (const [name, proposal] of chosen) {
    if (name !== "at" && name !== "made_at") continue;
    if (/\d[:.h]\d\d/.test(proposal.example.split(/\s/).slice(1).join(" "))) continue;
    const clock = raw.header.findIndex(
      (header, i) => !taken.has(i) && share(cells[i] ?? [], (c) => isClock(c, header)) > 0.7,
    );
    if (clock < 0) continue;
    chosen.set(name, {
      ...proposal,
      header: `${proposal.header} + ${raw.header[clock]!.trim()}`,
      example: `${proposal.example} ${cells[clock]?.[0] ?? ""}`,
    });
  }
}

/** A clock time; digits alone or a part of a day only below a heading that speaks of time. */
function isClock(cell: string, header: string): boolean {
  if (clockOf(cell) === null) return dayNumberText(cell, 1900)?.length === 5;
  return /\D/.test(cell) || /time|clock|hour|zeit|hora|heure/i.test(header);
}

/** How well a header and what stands below it fit a column. */
function howWell(
  column: Column,
  header: string,
  cells: readonly string[],
  study: StudyFile,
): number {
  const name = nameFit(column, header);
  if (name === 0) return 0;
  if (cells.length === 0) return 0.6 * name;
  const content = share(cells, (cell) => cellFits(column, cell, study));
  if (content < 0.5) return 0;
  // Any word fits a text: there contents say little.
  const telling = column.holds === "text" || column.holds === "id" || column.holds === "value";
  return telling ? 0.85 * name + 0.1 * content : 0.6 * name + 0.4 * content;
}

function nameFit(column: Column, header: string): number {
  const { plain } = readHeader(header);
  if (plain === "") return 0;
  if (plain === column.name) return 1;
  const words = headerWords[column.name] ?? [];
  const bare = plain.replace(/_(?:g|kg|lb|lbs|oz|ml|pct|h|gram|grams)$/, "");
  if (words.includes(plain) || words.includes(bare)) return 0.95;
  const parts = bare.split("_");
  if (words.some((word) => parts.includes(word))) return 0.75;
  return closestName(bare, new Set([column.name, ...words])) === null ? 0 : 0.65;
}

function cellFits(column: Column, cell: string, study: StudyFile): boolean {
  const { zone, dateStyle, decimal } = study.settings;
  switch (column.holds) {
    case "number":
      return (
        ["number", "ambiguous"].includes(readQuantity(cell, decimal).kind) ||
        (column.name === "offered_g" && eatenOfOffered(cell) !== null)
      );
    case "instant":
    case "day start":
    case "date":
    case "rough date":
      return (
        dateStyleOf(cell) !== null ||
        readDate(cell, dateStyle).kind === "date" ||
        readTime(cell, zone, dateStyle).kind !== "not a time" ||
        (dayNumberText(cell, 1900)?.length ?? 0) >= 10
      );
    case "choice": {
      const plain = cell.toLowerCase();
      return (
        (column.choices ?? []).includes(plain) || Object.hasOwn(column.alsoWritten ?? {}, plain)
      );
    }
    case "ordered times":
      return /^\d{1,2}[:.h]?\d\d/.test(cell);
    case "ordered amount":
      return /^\d|nil|npo/i.test(cell);
    case "ordered end":
      return dateStyleOf(cell) !== null;
    case "id":
      return cell.length <= 40;
    default:
      return true;
  }
}

function share(cells: readonly string[], test: (cell: string) => boolean): number {
  return cells.length === 0 ? 0 : cells.filter(test).length / cells.length;
}
