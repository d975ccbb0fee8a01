import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import Papa from "papaparse";

/** A study as text cells: settings and tables, before any reader of the library has seen them. */
export interface StudyText {
  readonly settings: Readonly<Record<string, unknown>>;
  readonly tables: Readonly<Record<string, TextTable>>;
}

export interface TextTable {
  readonly columns: readonly string[];
  readonly rows: readonly TextRow[];
}

export type TextRow = Readonly<Record<string, string>>;

const demoFolder = fileURLToPath(new URL("../fixtures/demo-853cc0e/", import.meta.url));

/** The committed demo study as text. */
export function demoStudyText(): StudyText {
  const names = readdirSync(demoFolder).filter((name) => name.endsWith(".csv"));
  const tables = names.map((name): [string, TextTable] => {
    const read = Papa.parse<TextRow>(readFileSync(`${demoFolder}${name}`, "utf8"), {
      header: true,
      skipEmptyLines: true,
    });
    return [name.slice(0, -4), { columns: read.meta.fields ?? [], rows: read.data }];
  });
  return {
    settings: JSON.parse(readFileSync(`${demoFolder}study.json`, "utf8")),
    tables: Object.fromEntries(tables),
  };
}

/** File names and texts of a study, as a study folder holds them. */
export function studyFiles(study: StudyText): ReadonlyMap<string, string> {
  const tables = Object.entries(study.tables).map(([name, { columns, rows }]): [string, string] => [
    `${name}.csv`,
    `${Papa.unparse({ fields: [...columns], data: rows.map((row) => columns.map((c) => row[c] ?? "")) })}\n`,
  ]);
  return new Map([["study.json", `${JSON.stringify(study.settings, null, 2)}\n`], ...tables]);
}

/** Every row of one table passed through `change`; null drops a row. */
export function changeTable(
  study: StudyText,
  name: string,
  change: (row: TextRow, at: number) => TextRow | null,
): StudyText {
  const table = study.tables[name]!;
  const rows = table.rows.map(change).filter((row): row is TextRow => row !== null);
  return { ...study, tables: { ...study.tables, [name]: { ...table, rows } } };
}

/** Every row of every table passed through `change`. */
export function changeAll(
  study: StudyText,
  change: (row: TextRow, table: string) => TextRow | null,
): StudyText {
  return Object.keys(study.tables).reduce(
    (changed, name) => changeTable(changed, name, (row) => change(row, name)),
    study,
  );
}

/** Tables left out altogether, as by a facility that does not keep them. */
export function withoutTables(study: StudyText, names: readonly string[]): StudyText {
  const left = Object.entries(study.tables).filter(([name]) => !names.includes(name));
  return { ...study, tables: Object.fromEntries(left) };
}

/** The rows of these animals only; rows that name no animal stay. */
export function onlyAnimals(study: StudyText, ids: readonly string[]): StudyText {
  return changeAll(study, (row) => {
    const id = row["animal_id"];
    return id === undefined || id === "" || ids.includes(id) ? row : null;
  });
}

/** "2024-05-02 06:10" or a bare date, some whole days later. Other text stays as it is. */
export function shiftDays(text: string, days: number): string {
  const date = /^(\d{4}-\d\d-\d\d)(.*)$/.exec(text);
  if (date === null) return text;
  const moved = new Date(Date.parse(`${date[1]}T00:00Z`) + days * 86_400_000);
  return `${moved.toISOString().slice(0, 10)}${date[2]}`;
}

/** Whole days from one date to another. */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(to.slice(0, 10)) - Date.parse(from.slice(0, 10))) / 86_400_000;
}
