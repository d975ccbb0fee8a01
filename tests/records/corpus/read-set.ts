import { runCheck } from "../../../src/command-line/check.js";
import { tableColumns, tableKeys } from "../../../src/records/columns.js";
import { parseStudy } from "../../../src/records/parse-study.js";
import type { Study, TableName } from "../../../src/records/study.js";
import { localText } from "../../../src/units/format-date.js";
import { type Question, questionsOf } from "./asked-about.js";
import { dullStudy } from "./dull-study.js";
import { accepted, inFolder, inputsOf, type Pages, pagesOf } from "./pages-of.js";
import type { RecordSet, Words } from "./record-set.js";

/** What of a set's expectation was not met, in words; empty when all was. */
export async function failuresOf(set: RecordSet): Promise<string[]> {
  const failed: string[] = [];
  if (set.check !== undefined) {
    const text = await screenOf(set);
    for (const pattern of set.check)
      if (!pattern.test(text)) failed.push(`check does not say ${pattern}`);
  }
  let study: Study;
  try {
    const inputs = await inputsOf(set.files);
    study = parseStudy(set.accept === true ? accepted(inputs) : inputs);
  } catch (error) {
    const said = (error as Error).message;
    if (!(error instanceof Error) || error.name !== "UsageError") throw error;
    if (set.refused === undefined) failed.push(`refused: ${said}`);
    else if (!set.refused.test(said)) failed.push(`refused without ${set.refused}: ${said}`);
    return failed;
  }
  if (set.refused !== undefined) failed.push("was not refused");
  failed.push(...rowFailures(set, study), ...questionFailures(set, study));
  if (set.pages !== undefined || set.head !== undefined || set.somewhere !== undefined)
    failed.push(...(await pageFailures(set, study)));
  return failed;
}

/** What `check` says on the screen; with `--save-mapping` where the set accepts. */
async function screenOf(set: RecordSet): Promise<string> {
  const saveMapping = set.accept === true;
  const options = { out: null, json: false, saveMapping, today: "2025-05-11" };
  return await inFolder(set.files, async (folder) => (await runCheck(folder, options)).text);
}

function rowFailures(set: RecordSet, study: Study): string[] {
  const failed: string[] = [];
  for (const [table, count] of Object.entries(set.counts ?? {})) {
    const got = tableOf(study, table as TableName).length;
    if (got !== count) failed.push(`${table}: ${got} rows accepted, ${count} expected`);
  }
  for (const [table, [head, ...rows]] of Object.entries(set.rows ?? {})) {
    const columns = head!.split("|").map((c) => c.trim());
    const got = tableOf(study, table as TableName).map((row) =>
      columns.map((c) => shown(table as TableName, c, row, study.settings.zone)).join(" | "),
    );
    for (const row of rows) {
      const times = got.filter((g) => g === row).length;
      if (times !== 1) failed.push(`${table}: "${row}" was read ${times} times${like(row, got)}`);
    }
  }
  return failed;
}

function like(row: string, got: readonly string[]): string {
  const near = got.filter((g) => g.slice(0, 15) === row.slice(0, 15)).slice(0, 2);
  return near.length === 0 ? "" : `; there is ${near.map((n) => `"${n}"`).join(", ")}`;
}

function tableOf(study: Study, table: TableName): readonly Readonly<Record<string, unknown>>[] {
  const tables = study.tables as unknown as Record<
    string,
    Iterable<Readonly<Record<string, unknown>>>
  >;
  return [...tables[tableKeys[table]]!];
}

/** A value as the expectations write it: local time, plain numbers, "-" for nothing. */
function shown(
  table: TableName,
  name: string,
  row: Readonly<Record<string, unknown>>,
  zone: string,
): string {
  if (name === "day") return localText(row["at"] as number, zone).slice(0, 10);
  const column = tableColumns[table].find((c) => c.name === name);
  if (column === undefined) throw new Error(`no column ${name} in ${table}`);
  const value = row[column.key];
  if (value === null || value === undefined) return "-";
  if (column.holds === "instant" || column.holds === "day start")
    return localText(value as number, zone);
  return typeof value === "number" ? String(Number(value.toPrecision(7))) : String(value);
}

function questionFailures(set: RecordSet, study: Study): string[] {
  const questions = questionsOf(study);
  const said = (q: Question) => `${q.file} line ${q.line}: ${q.says}`;
  if (set.quiet) return questions.map((q) => `asked about ${said(q)}`).slice(0, 3);
  return (set.asked ?? []).flatMap(({ table, row, says, equal }) => {
    const lines = linesWith(set, table, row);
    if (lines.length === 0) throw new Error(`"${row}" stands nowhere in ${table} (${set.name})`);
    const failed = lines.map((line) => {
      const here = questions.filter((q) => q.file === `${table}.csv` && q.line === line);
      if (here.length === 0) return [`${table} line ${line} ("${row}") was not asked about`];
      const fits = says === undefined || here.some((q) => says.test(q.says));
      return fits ? [] : [`${table} line ${line}: ${here.map(said).join("; ")}`];
    });
    return equal && failed.some((each) => each.length === 0) ? [] : failed.flat();
  });
}

function linesWith(set: RecordSet, table: TableName, row: string): number[] {
  const text = set.files[`${table}.csv`];
  if (typeof text !== "string") throw new Error(`${table}.csv is no text (${set.name})`);
  return text.split("\n").flatMap((line, i) => (line.includes(row) ? [i + 1] : []));
}

let calmPages: Promise<Pages> | null = null;
/** The pages of the unchanged study: what a set's pages must say, these must not. */
const unchanged = () => {
  calmPages ??= inputsOf(dullStudy()).then((inputs) => pagesOf(parseStudy(inputs)));
  return calmPages;
};

async function pageFailures(set: RecordSet, study: Study): Promise<string[]> {
  const pages = await pagesOf(study, set.onDay).catch((error: Error) => error);
  // A day that cannot be looked at may be refused as well as said on every page.
  if (pages instanceof Error) {
    if (pages.name !== "UsageError") throw pages;
    return (set.head ?? [/$^/])
      .filter((pattern) => !pattern.test(pages.message))
      .map((pattern) => `refused without ${pattern}: ${pages.message}`);
  }
  const calm = await unchanged();
  const failed: string[] = [];
  for (const pattern of set.head ?? [])
    for (const page of ["handOver", "sheet"] as const) {
      if (!pattern.test(pages[page].head)) failed.push(`head of ${page} does not say ${pattern}`);
      if (pattern.test(calm[page].head)) failed.push(`${pattern} stands on every ${page}`);
    }
  for (const pattern of set.somewhere ?? [])
    for (const page of ["handOver", "sheet"] as const) {
      if (!pattern.test(pages[page].whole)) failed.push(`${page} does not say ${pattern}`);
      if (pattern.test(calm[page].whole)) failed.push(`${pattern} stands on every ${page}`);
    }
  for (const [id, { handOver, sheet, ordered }] of Object.entries(set.pages ?? {})) {
    const look = (page: "handOver" | "sheet", words: Words | undefined) => {
      if (words === undefined) return;
      const block = pages[page].block(id);
      const where = `${page} of ${id}`;
      if (block === "") failed.push(`${where} is not there`);
      for (const pattern of [...(words.says ?? []), ...(words.still ?? [])])
        if (!pattern.test(block)) failed.push(`${where} does not say ${pattern}`);
      for (const pattern of words.says ?? [])
        if (pattern.test(calm[page].block(id))) failed.push(`${pattern} stands on every ${where}`);
      for (const pattern of words.never ?? [])
        if (pattern.test(block)) failed.push(`${where} says ${pattern.exec(block)?.[0]}`);
    };
    look("handOver", handOver);
    look("sheet", sheet);
    if (ordered === undefined) continue;
    const got = pages.ordered(id).join(", ");
    const wanted = [...ordered].sort().join(", ");
    if (got !== wanted) failed.push(`sheet of ${id} orders "${got}", written was "${wanted}"`);
  }
  return failed;
}
