import { UsageError } from "../core/usage-error.js";
import type { Archive } from "./archive-handle.js";
import { type ArchivedStudy, archiveFormat, listName, studyOfRow } from "./archived-study.js";
import { archivedTableNames, archivedTables } from "./archived-tables.js";
import { type Engine, type EngineOptions, loadEngine, quoted } from "./load-engine.js";
import { studyOfArchive } from "./study-of-archive.js";
import { archivedSqlType } from "./write-parquet.js";

/**
 * Opens an archive: its tables by their names (`feeds_counted`, `stays`, ...), the rows in
 * force alone. Nothing is read before it is asked for.
 *
 * @throws UsageError where DuckDB is not installed, or the folder is no archive.
 * @example (await openArchive("../houses")).studies.length // 12 houses and seasons
 */
export async function openArchive(folder: string, options: EngineOptions = {}): Promise<Archive> {
  const engine = await loadEngine(options);
  try {
    const studies = await readList(engine, folder);
    for (const table of archivedTableNames) await engine.run(viewOf(table, folder, studies));
    const opened = { studies, rows: (sql: string) => engine.rows(sql) };
    return {
      ...opened,
      folder,
      study: (chosen) => studyOfArchive(opened, chosen),
      each: (sql, visit) => engine.each(sql, visit),
      close: () => engine.close(),
    };
  } catch (error) {
    engine.close();
    throw error;
  }
}

/**
 * The studies of an archive.
 *
 * @throws UsageError where the folder is no archive, or one of another format.
 */
export async function readList(engine: Engine, folder: string): Promise<ArchivedStudy[]> {
  const list = quoted(pathIn(folder, listName));
  const rows = await engine
    .rows(`SELECT * FROM read_parquet(${list}) ORDER BY facility, study`)
    .catch((error: Error) => {
      throw notAnArchive(folder, /No files found/.test(error.message) ? null : error.message);
    });
  const other = rows.find((row) => row["format"] !== archiveFormat);
  if (other !== undefined)
    throw notAnArchive(folder, `it is of format ${other["format"]}, made by another version`);
  return rows.map(studyOfRow);
}

function notAnArchive(folder: string, why: string | null): UsageError {
  return new UsageError({
    needed: `an archive: a folder with ${listName} in it`,
    came: why === null ? "there is none" : `it cannot be read (${why.split("\n")[0]})`,
    where: folder,
    todo: "Check the spelling, or make one: gramline archive add STUDY --to ARCHIVE --facility NAME.",
  });
}

/** The rows in force of a table: the files that the list names, and no others. */
function viewOf(
  table: keyof typeof archivedTables,
  folder: string,
  studies: readonly ArchivedStudy[],
): string {
  const files = studies.flatMap((s) => s.files.filter((f) => f.table === table));
  const columns = archivedTables[table];
  const from =
    files.length === 0
      ? `(SELECT ${columns.map((c) => `NULL::${archivedSqlType(c.type)} AS ${c.name}`).join(", ")}) WHERE false`
      : `read_parquet([${files.map((f) => quoted(pathIn(folder, f.path))).join(", ")}], hive_partitioning = false)`;
  return `CREATE VIEW ${table} AS SELECT * FROM ${from}`;
}

/** A path with "/" on every system, its signs for patterns taken as they are. */
export function pathIn(folder: string, name: string): string {
  return `${folder.replaceAll("\\", "/").replace(/\/+$/, "")}/${name}`.replace(/[[\]*?]/g, "[$&]");
}
