import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import { dimensionOf, type UnitName, unitNamed, units } from "../units/quantity.js";
import { type Column, requiredTables, tableColumns, tableNames } from "./columns.js";
import type { RawTable } from "./raw-table.js";
import type { StudyFile } from "./settings.js";
import type { TableName } from "./study.js";
import { ownRow } from "./text-row.js";

/** Where one of our columns stands in a file, and the unit of its bare numbers. */
export interface MatchedColumn {
  readonly column: Column;
  readonly index: number;
  readonly header: string;
  readonly unit: UnitName | null;
  readonly unitFrom: "column setting" | "header" | "study setting" | "our own name";
}

export interface MatchedHeaders {
  readonly matched: readonly MatchedColumn[];
  /** Required columns that the file does not have. */
  readonly missing: readonly string[];
  /** Headers no column of ours stands for; their cells are kept in the raw rows only. */
  readonly ignored: readonly string[];
  readonly notices: readonly Notice[];
}

/**
 * Finds our columns in a file's header. A header is ours when it says so in
 * study.json, or when it is our name, written with other capitals, spaces or
 * unit ("Mass (kg)" is mass_g in kilograms). Anything else is ignored and told;
 * nothing is guessed.
 *
 * @throws UsageError when animals or weighings lack a required column.
 */
export function matchHeaders(table: TableName, raw: RawTable, study: StudyFile): MatchedHeaders {
  const notices: Notice[] = [];
  const parsed = raw.header.map((header) => readHeader(header));
  const taken = new Set<number>();
  const matched: MatchedColumn[] = [];
  const missing: string[] = [];

  for (const column of tableColumns[table]) {
    const place = { file: raw.file, table, line: raw.headerLine, column: column.name };
    const told = study.headers.get(`${table}.${column.name}`);
    const fits = (test: (h: ReadHeader) => boolean) =>
      parsed.flatMap((h, i) => (!taken.has(i) && test(h) ? [i] : []));
    let found: number[] = [];
    if (told !== undefined) {
      for (const name of told) {
        if (found.length === 0) found = fits((h) => h.text === name.trim());
        if (found.length === 0) found = fits((h) => h.plain === readHeader(name).plain);
      }
      // A file that has our own name for it, or one of several, lacks nothing.
      if (found.length === 0 && !parsed.some((h) => h.plain === column.name))
        notices.push(
          notice("records-mapped-header-absent", "caution", { header: told.join(", ") }, place),
        );
    }
    if (found.length === 0) found = fits((h) => h.plain === column.name);
    if (found.length === 0) found = fits((h) => sameButForUnit(h, column));
    const index = found[0];
    if (index === undefined) {
      if (column.required) missing.push(column.name);
      continue;
    }
    if (found.length > 1)
      notices.push(
        notice("records-header-twice", "problem", { header: parsed[index]!.text }, place),
      );
    for (const i of found) taken.add(i);
    matched.push(withUnit(table, column, index, parsed[index]!, study, notices, place));
  }
  // Without animals or weighings nothing can be said; other tables are set aside row by row.
  if (missing.length > 0 && requiredTables.includes(table))
    throw missingColumns(table, raw, missing);
  if (missing.length > 0)
    notices.push(
      notice(
        "records-columns-missing",
        "problem",
        { columns: missing, table },
        { file: raw.file, table, line: raw.headerLine },
      ),
    );
  // What was put together into another column was read.
  const parts = new Set(
    matched.flatMap((m) => (m.header.includes(" + ") ? partsOf(m.header) : [])).map(plainOf),
  );
  const ignored = parsed
    .filter((h, i) => !taken.has(i) && h.text !== "" && !parts.has(h.plain))
    .map((h) => h.text);
  if (ignored.length > 0)
    notices.push(
      notice(
        "records-columns-ignored",
        "info",
        { columns: ignored.slice(0, 12), count: ignored.length },
        { file: raw.file, table, line: raw.headerLine },
      ),
    );
  return { matched, missing, ignored, notices };
}

/** How many of a table's columns, and of its required ones, a row of names has. */
export function matchCount(
  table: TableName,
  parsed: readonly ReadHeader[],
  study: StudyFile,
): { readonly matched: number; readonly required: number } {
  let matched = 0;
  let required = 0;
  for (const column of tableColumns[table]) {
    const told = study.headers.get(`${table}.${column.name}`);
    const fits =
      (told ?? []).some((name) =>
        partsOf(name).every((part) => parsed.some((h) => h.plain === readHeader(part).plain)),
      ) || parsed.some((h) => h.plain === column.name || sameButForUnit(h, column));
    if (!fits) continue;
    matched++;
    if (column.required) required++;
  }
  return { matched, required };
}

/** The table a file or sheet is named after: "weighings", "Weighings 2024", "scale checks". */
export function tableNamed(stem: string): TableName | null {
  const m = /^([a-z][a-z _-]*?)(?:[-_ ]*\d[\w -]*)?$/i.exec(stem.trim());
  const plain = m?.[1]?.toLowerCase().replace(/[ -]+/g, "_").replace(/_+$/, "");
  return tableNames.find((name) => name === plain) ?? null;
}

/**
 * Puts two columns together where study.json says so ("at": "Date + Time"): a
 * column of that name is added, its cells joined by a blank.
 */
export function joinColumns(table: TableName, raw: RawTable, study: StudyFile): RawTable {
  let joined = raw;
  for (const column of tableColumns[table])
    for (const told of study.headers.get(`${table}.${column.name}`) ?? []) {
      const parts = partsOf(told);
      if (parts.length < 2 || raw.header.includes(told)) continue;
      const places = parts.map((part) =>
        raw.header.findIndex((h) => readHeader(h).plain === readHeader(part).plain),
      );
      if (places.some((place) => place < 0)) continue;
      const at = joined.header.length;
      const withJoined = (cells: readonly string[]) => {
        const longer = cells.slice();
        while (longer.length < at) longer.push("");
        longer.push(
          places
            .map((place) => (cells[place] ?? "").trim())
            .join(" ")
            .trim(),
        );
        return longer;
      };
      joined = {
        ...joined,
        header: [...joined.header, told],
        rows: joined.rows.map((row) => {
          if (row.broken !== undefined || row.cells.length > at) return row;
          const { cells, written } = row;
          return written === undefined
            ? { ...ownRow(row), cells: withJoined(cells) }
            : { ...ownRow(row), cells: withJoined(cells), written: withJoined(written) };
        }),
      };
      break;
    }
  return joined;
}

/** The headers of columns that are put together: "Date + Time". */
const partsOf = (told: string) => told.split(/\s+\+\s+/);

const plainOf = (header: string) => readHeader(header).plain;

/** A header cut into words and the unit it carries. */
export interface ReadHeader {
  readonly text: string;
  /** Lower case, words joined by underscores, unit in brackets taken off. */
  readonly plain: string;
  readonly unit: UnitName | null;
}

/** Cuts a header. @example readHeader("Mass (kg)") // { text: "Mass (kg)", plain: "mass", unit: "kg" } */
export function readHeader(text: string): ReadHeader {
  const trimmed = text.replace(/^\ufeff/, "").trim();
  const bracket = /^(.*?)\s*[([]\s*([^)\]]+?)\s*[)\]]$/.exec(trimmed);
  const behind = bracket ?? /^(.*?)(?:,|\s+in)\s+([a-z]+)$/i.exec(trimmed);
  const unit = behind === null ? null : unitNamed(behind[2]!);
  const base = behind !== null && unit !== null ? behind[1]! : trimmed;
  const plain = base
    .normalize("NFC")
    .toLowerCase()
    .replace(/[\s\-./]+/g, "_")
    .replace(/^_+|_+$/g, "");
  return { text: trimmed, plain, unit };
}

/** Our `mass_g` is also `mass`, `mass_kg` and `mass_lb`. */
function sameButForUnit(header: ReadHeader, column: Column): boolean {
  if (column.unit === undefined || !(column.unit in units)) {
    return column.unit === "%" && header.plain === column.name.replace(/_pct$/, "");
  }
  const perFeed = unitBefore(header.plain, "_per_feed");
  // Millilitres have a column of their own.
  if (column.name === "g_per_feed" && perFeed !== null && perFeed !== "mL") return true;
  const base = column.name.replace(/_g$/, "");
  if (header.plain === base) return true;
  const tail = header.plain.startsWith(`${base}_`) ? header.plain.slice(base.length + 1) : null;
  return tail !== null && unitNamed(tail) !== null;
}

/** The unit before "_per_feed": "ml_per_feed" is in mL whatever the study's unit of mass. */
function unitBefore(plain: string, tail: string): UnitName | null {
  return plain.endsWith(tail) ? unitNamed(plain.slice(0, -tail.length)) : null;
}

function withUnit(
  table: TableName,
  column: Column,
  index: number,
  header: ReadHeader,
  study: StudyFile,
  notices: Notice[],
  place: Notice["place"] & object,
): MatchedColumn {
  const own = column.unit !== undefined && column.unit in units ? (column.unit as UnitName) : null;
  const done = (unit: UnitName | null, unitFrom: MatchedColumn["unitFrom"]): MatchedColumn => ({
    column,
    index,
    header: header.text,
    unit,
    unitFrom,
  });
  if (own === null) return done(null, "our own name");
  const tail = header.plain.split("_").at(-1) ?? "";
  const inHeader =
    header.unit ??
    (header.plain.includes("_") ? unitNamed(tail) : null) ??
    unitBefore(header.plain, "_per_feed") ??
    unitBefore(header.plain, "_per_day");
  const told = study.units.get(`${table}.${column.name}`);
  if (told !== undefined) {
    if (inHeader !== null && inHeader !== told && header.plain !== column.name)
      notices.push(
        notice("records-unit-contradiction", "caution", { told, header: inHeader }, place),
      );
    return done(told, "column setting");
  }
  const general = study.units.get(`${table}.mass`) ?? study.units.get(dimensionOf(own));
  if (inHeader !== null) {
    if (general !== undefined && general !== inHeader)
      notices.push(
        notice("records-unit-by-header", "info", { told: general, header: inHeader }, place),
      );
    return done(inHeader, "header");
  }
  if (general !== undefined) return done(general, "study setting");
  if (header.plain !== column.name)
    notices.push(notice("records-unit-assumed", "caution", { unit: own }, place));
  return done(own, "our own name");
}

function missingColumns(table: TableName, raw: RawTable, missing: readonly string[]): UsageError {
  const list = (names: readonly string[]) => names.map((name) => `"${name}"`).join(", ");
  const there = raw.header.filter((h) => h.trim() !== "").slice(0, 30);
  return new UsageError({
    needed: `${missing.length === 1 ? "a column" : "columns"} ${list(missing)} in the table of ${table.replace("_", " ")}`,
    came: there.length === 0 ? "the file has no header" : `its header has ${list(there)}`,
    where: `${raw.file}, line ${raw.headerLine}`,
    todo: `Rename the column, or say in study.json which one it is: "columns": { "${table}": { "${missing[0]}": "their name" } }.`,
  });
}
