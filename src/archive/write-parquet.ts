import { pathOfFile } from "./archive-names.js";
import { type ArchivedStudy, listColumns, listRow, listTable } from "./archived-study.js";
import { type ArchivedColumn, type ArchivedType, archivedTables } from "./archived-tables.js";
import { type AppendedColumn, type Cell, type Engine, quoted } from "./load-engine.js";
import type { TableRows } from "./table-rows.js";

/** A file of a study: where it goes in the archive, and where it was made. */
export interface MadeFile {
  readonly path: string;
  readonly table: string;
  readonly season: string | null;
  readonly rows: number;
  readonly madeAt: string;
}

const parquet = "(FORMAT parquet, COMPRESSION zstd)";

/**
 * Writes one table of a study as Parquet, a file for each season, into a folder of its own
 * beside the archive's: the caller moves them to their places.
 *
 * @param scratch an existing folder, with "/" on every system.
 */
export async function writeTable(
  engine: Engine,
  rows: TableRows,
  about: Pick<ArchivedStudy, "facility" | "study" | "generation">,
  scratch: string,
): Promise<MadeFile[]> {
  const columns = archivedTables[rows.table];
  const n = rows.seasons.length;
  const place: Readonly<Record<string, readonly Cell[]>> = {
    facility: new Array<Cell>(n).fill(about.facility),
    study: new Array<Cell>(n).fill(about.study),
    generation: new Array<Cell>(n).fill(about.generation),
    season: rows.seasons,
  };
  const values = (name: string) =>
    place[name] ?? rows.columns.get(name) ?? new Array<Cell>(n).fill(null);
  await engine.run(`CREATE OR REPLACE TEMP TABLE staged (${columns.map(stagedColumn).join(", ")})`);
  await engine.append(
    "staged",
    columns.map(
      ({ name, type }): AppendedColumn => ({ type: stagedAs(type), values: values(name) }),
    ),
  );
  const typed = columns.map(typedColumn).join(", ");
  const sortedBy = ["animal", "at_utc"].filter((name) => columns.some((c) => c.name === name));
  const sorted = sortedBy.length === 0 ? "" : `ORDER BY ${sortedBy.join(", ")}`;
  const seasons = [...new Set(rows.seasons)];
  const made: MadeFile[] = [];
  for (const [i, season] of seasons.entries()) {
    const madeAt = `${scratch}/${rows.table}-${i}.parquet`;
    const where = season === null ? "season IS NULL" : `season = ${quoted(season)}`;
    await engine.run(
      `COPY (SELECT ${typed} FROM staged WHERE ${where} ${sorted}) TO ${quoted(madeAt)} ${parquet}`,
    );
    const count = rows.seasons.reduce((sum, each) => sum + (each === season ? 1 : 0), 0);
    const path = pathOfFile(rows.table, about.facility, season, about.generation);
    made.push({ path, table: rows.table, season, rows: count, madeAt });
  }
  await engine.run("DROP TABLE staged");
  return made;
}

/** Writes the list of studies. */
export async function writeList(
  engine: Engine,
  studies: readonly ArchivedStudy[],
  madeAt: string,
): Promise<void> {
  await engine.run(`CREATE OR REPLACE TEMP TABLE staged (${listTable})`);
  const rows = studies.map(listRow);
  const typeOf = (value: Cell): AppendedColumn["type"] =>
    typeof value === "number" ? "number" : typeof value === "boolean" ? "yes or no" : "text";
  await engine.append(
    "staged",
    rows.length === 0
      ? []
      : listColumns.map((name) => ({
          type: typeOf(rows[0]![name]),
          values: rows.map((row) => row[name]),
        })),
  );
  await engine.run(
    `COPY (SELECT * FROM staged ORDER BY facility, study) TO ${quoted(madeAt)} ${parquet}`,
  );
  await engine.run("DROP TABLE staged");
}

const stagedAs = (type: ArchivedType): AppendedColumn["type"] =>
  type === "number" || type === "instant" ? "number" : type === "yes or no" ? type : "text";

const sqlTypes = { text: "VARCHAR", number: "DOUBLE", "yes or no": "BOOLEAN" } as const;

const stagedColumn = ({ name, type }: ArchivedColumn) => `${name} ${sqlTypes[stagedAs(type)]}`;

/** Instants go in as milliseconds and stand there as UTC instants; days as dates. */
function typedColumn({ name, type }: ArchivedColumn): string {
  if (type === "instant") return `make_timestamptz((${name} * 1000)::BIGINT) AS ${name}`;
  return type === "day" ? `${name}::DATE AS ${name}` : name;
}

/** The SQL type of a column in an archive. */
export function archivedSqlType(type: ArchivedType): string {
  if (type === "instant") return "TIMESTAMPTZ";
  return type === "day" ? "DATE" : sqlTypes[stagedAs(type)];
}
