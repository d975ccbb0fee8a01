import { tableKeys, tableNames } from "../records/columns.js";
import type { AnimalRow, ReadRow, Study, TableName } from "../records/study.js";
import { recordColumns } from "./archived-tables.js";
import { countedRows } from "./counted-rows.js";
import type { Cell } from "./load-engine.js";
import type { TableRows, UniqueId } from "./table-rows.js";

/**
 * A study as the archive keeps it: every accepted row in canonical units with where it
 * stood, and beside the records the same rows as they count, decisions applied.
 *
 * @param idOf names an animal uniquely over all facilities.
 * @example rowsOfStudy(study, (id) => `oak/${id}`)[0].table // "animals"
 */
export function rowsOfStudy(study: Study, facility: string, idOf: UniqueId): TableRows[] {
  const seasonOf = new Map(
    [...study.tables.animals, ...(study.standIns ?? [])].map((a) => [a.animalId, a.season]),
  );
  const records = tableNames.map((table) => recordRows(study, table, seasonOf, idOf));
  return [...records, ...countedRows(study, facility, idOf)].filter((t) => t.seasons.length > 0);
}

function recordRows(
  study: Study,
  table: TableName,
  seasonOf: ReadonlyMap<string, string | null>,
  idOf: UniqueId,
): TableRows {
  const rows = rowsOf(study, table);
  const animals = rows.map((row) => (row as { animalId?: string | null }).animalId ?? null);
  const columns = new Map<string, readonly Cell[]>();
  if (recordColumns(table).some((c) => c.key === "animalId"))
    columns.set(
      "animal",
      animals.map((id) => (id === null ? null : idOf(id))),
    );
  for (const { name, key, type } of recordColumns(table))
    columns.set(
      name,
      rows.map((row) => {
        const value = (row as unknown as Readonly<Record<string, unknown>>)[key] ?? null;
        return type === "json" && value !== null ? JSON.stringify(value) : (value as Cell);
      }),
    );
  columns.set(
    "origin_file",
    rows.map((row) => row.origin.file),
  );
  columns.set(
    "origin_line",
    rows.map((row) => row.origin.line),
  );
  columns.set(
    "origin_cell",
    rows.map((row) => row.origin.cell ?? null),
  );
  columns.set(
    "unread",
    rows.map((row) => (row.unread === undefined ? null : JSON.stringify(row.unread))),
  );
  const own = table === "animals" ? (rows as readonly AnimalRow[]).map((a) => a.season) : null;
  return {
    table,
    columns,
    seasons: own ?? animals.map((id) => (id === null ? null : (seasonOf.get(id) ?? null))),
  };
}

/** The accepted rows of a table; animals that stand in without a row of their own among them. */
function rowsOf(study: Study, table: TableName): readonly ReadRow[] {
  const key = tableKeys[table];
  if (key === "decisions" || key === "acknowledgements" || key === "answers")
    return study[key] ?? [];
  // Iterated, so that it does not matter how a table keeps its rows.
  const rows: ReadRow[] = [...study.tables[key]];
  return table === "animals" ? [...rows, ...(study.standIns ?? [])] : rows;
}
