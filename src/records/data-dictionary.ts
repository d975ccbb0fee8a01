import { type Column, tableColumns, tableNames } from "./columns.js";

/** A column of the record tables in words, for dictionaries and templates. */
export interface DictionaryEntry {
  readonly table: string;
  readonly column: string;
  readonly holds: string;
  readonly unit: string;
  readonly required: boolean;
  readonly allowed: readonly string[];
  readonly about: string;
}

/** Every column of every table, in order. @example dataDictionary()[0]?.column // "animal_id" */
export function dataDictionary(): DictionaryEntry[] {
  return tableNames.flatMap((table) =>
    tableColumns[table].map((c) => ({
      table,
      column: c.name,
      holds: c.holds,
      unit: unitOf(c),
      required: c.required === true,
      allowed: c.choices ?? [],
      about: c.about,
    })),
  );
}

/** The unit of a column as people write it. */
export function unitOf(column: Column): string {
  return column.unit === "1/d" ? "per day" : (column.unit ?? "");
}
