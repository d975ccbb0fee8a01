import { type Notice, notice } from "../core/notice.js";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import { closestName } from "../records/closest-name.js";
import { tableKeys, tableNames } from "../records/columns.js";
import type {
  AnimalRow,
  DecisionRow,
  SetAsideRow,
  Study,
  StudySettings,
  StudyTables,
  TableName,
} from "../records/study.js";
import { dateOfNumber } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { ArchivedStudy } from "./archived-study.js";
import { recordColumns } from "./archived-tables.js";
import { type Chosen, chosenRows, type SumRow } from "./chosen.js";
import { clockOfStudy, namesOfStudy, ownRules, settingsOf } from "./one-study-of-many.js";

/**
 * Rows of an archive as one study. Of a single study it is that study, as it was added. Of
 * several, ids carry the facility before them, what a blank means is settled by each
 * study's own settings, and where clocks differ every house keeps its own wall clock.
 *
 * @throws UsageError where nothing is chosen, or more than a study can hold.
 */
export async function studyOfArchive(
  archive: {
    readonly studies: readonly ArchivedStudy[];
    rows(sql: string): Promise<readonly SumRow[]>;
  },
  chosen: Chosen = {},
): Promise<Study> {
  const stays = await archive.rows(
    `SELECT DISTINCT study, generation FROM stays AS s WHERE ${chosenRows(chosen, "s")}`,
  );
  const generations = new Set(stays.map((row) => String(row["generation"])));
  const studies = archive.studies.filter((s) => generations.has(s.generation));
  if (studies.length === 0) throw await nothingChosen(archive, chosen);
  requireFew(studies);
  const settings = settingsOf(studies);
  const tables: Record<string, object[]> = {};
  for (const table of tableNames) tables[table] = [];
  for (const study of studies) {
    const turn = turnOf(study, studies, settings);
    for (const table of tableNames)
      for (const row of await archive.rows(rowsSql(table, study, chosen)))
        tables[table]!.push(turn(table, rowOf(table, row)));
  }
  return studyOf(studies, settings, tables as Record<TableName, object[]>);
}

async function nothingChosen(
  archive: { rows(sql: string): Promise<readonly SumRow[]> },
  chosen: Chosen,
): Promise<UsageError> {
  const known = await archive.rows("SELECT DISTINCT species FROM stays ORDER BY species");
  const kinds = new Set(known.map((row) => String(row["species"])));
  const near = (chosen.species ?? [])
    .filter((each) => !kinds.has(each))
    .map((each) => closestName(each, kinds));
  return new UsageError({
    needed: "animals of the archive",
    came: `none is chosen by ${JSON.stringify(chosen)}`,
    where: "archive.study",
    todo:
      near[0] == null
        ? "List what is there: gramline archive list ARCHIVE."
        : `Is ${near[0]} meant?`,
  });
}

function requireFew(studies: readonly ArchivedStudy[]): void {
  const files = studies.flatMap((s) => s.files.filter((f) => f.table in tableKeys));
  const rows = files.reduce((n, f) => n + f.rows, 0);
  if (rows <= sizeLimits.archivedStudyRows) return;
  throw new UsageError({
    needed: `at most ${sizeLimits.archivedStudyRows} rows for one study in memory`,
    came: `${rows} are chosen`,
    where: "archive.study",
    todo: "Choose facilities, seasons or a species, or ask the sums of the archive, which know no such limit.",
  });
}

/** The rows of one study in a table; of an animal that is not chosen none. */
function rowsSql(table: TableName, study: ArchivedStudy, chosen: Chosen): string {
  const whole = `SELECT * FROM ${table} WHERE generation = '${study.generation}'`;
  const hasAnimal = recordColumns(table).some((c) => c.key === "animalId");
  const { species, seasons } = chosen;
  const some = species !== undefined || seasons !== undefined;
  const animals = `SELECT animal FROM stays AS s WHERE ${chosenRows(chosen, "s")}`;
  const order = "ORDER BY origin_file, origin_line, origin_cell";
  return hasAnimal && some
    ? `${whole} AND (animal IS NULL OR animal IN (${animals})) ${order}`
    : `${whole} ${order}`;
}

/** A row of the archive as a row of a study. */
function rowOf(table: TableName, row: SumRow): object {
  const cells = recordColumns(table).map(({ name, key, type }) => {
    const value = row[name] ?? null;
    if (value === null) return [key, null];
    if (type === "json") return [key, JSON.parse(String(value))];
    return [key, type === "day" ? dateOfNumber(Math.floor(Number(value) / dayMs)) : value];
  });
  const { origin_file, origin_line, origin_cell, unread } = row;
  return {
    ...Object.fromEntries(cells.filter(([key, value]) => key !== "withoutRow" || value !== null)),
    origin: {
      file: origin_file,
      line: origin_line,
      ...(origin_cell === null ? {} : { cell: origin_cell }),
    },
    ...(unread === null ? {} : { unread: JSON.parse(String(unread)) }),
  };
}

/** What becomes of a row where it comes together with rows of other studies. */
function turnOf(
  study: ArchivedStudy,
  studies: readonly ArchivedStudy[],
  settings: StudySettings,
): (table: TableName, row: object) => object {
  if (studies.length === 1) return (_, row) => row;
  const named = namesOfStudy(study, studies);
  const clock = clockOfStudy(study, settings);
  const rules = ownRules(study);
  return (table, row) => clock(table, rules(table, named(row)));
}

function studyOf(
  studies: readonly ArchivedStudy[],
  settings: StudySettings,
  tables: Readonly<Record<TableName, object[]>>,
): Study {
  const { decisions, acknowledgements, answers, animals, ...rest } = tables;
  const isStandIn = (row: object) => "withoutRow" in row;
  const standIns = animals.filter(isStandIn) as AnimalRow[];
  const one = studies.length === 1;
  const files = <T extends { readonly file: string }>(from: ArchivedStudy, all: readonly T[]) =>
    all.map((each) => (one ? each : { ...each, file: `${from.facility}/${each.file}` }));
  return {
    settings,
    tables: {
      ...Object.fromEntries(
        Object.entries(rest).map(([table, rows]) => [tableKeys[table as TableName], rows]),
      ),
      animals: animals.filter((row) => !isStandIn(row)),
    } as unknown as StudyTables,
    setAside: studies.flatMap(rowsSetAside),
    counts: studies.flatMap((s) => files(s, s.counts)),
    notices: noticesOf(studies, settings),
    inputs: studies.flatMap((s) => s.inputs),
    ...(decisions.length === 0 ? {} : { decisions: decisions as DecisionRow[] }),
    ...(standIns.length === 0 ? {} : { standIns }),
    // What people noted for the day's page is of no use to years and houses.
    ...(one && acknowledgements.length > 0
      ? { acknowledgements: acknowledgements as NonNullable<Study["acknowledgements"]> }
      : {}),
    ...(one && answers.length > 0 ? { answers: answers as NonNullable<Study["answers"]> } : {}),
  };
}

/** The archive counts rows set aside and keeps none of their words: they are told by number. */
function rowsSetAside({ facility, setAside }: ArchivedStudy): SetAsideRow[] {
  return setAside.flatMap(({ table, rows }) =>
    Array.from({ length: rows }, (_, i) => ({
      table: table as TableName,
      file: `${facility}/${table}`,
      line: i + 1,
      column: null,
      value: null,
      reason: notice("archive-row-set-aside", "problem"),
      suggestion: notice("archive-look-in-study", "info"),
      raw: [],
    })),
  );
}

function noticesOf(studies: readonly ArchivedStudy[], settings: StudySettings): Notice[] {
  const differ = studies.filter(
    (s) => s.zone !== settings.zone || s.feedingDayStartHour !== settings.feedingDayStartHour,
  ).length;
  return [
    notice("archive-rows-of-studies", "info", {
      studies: studies.length,
      facilities: new Set(studies.map((s) => s.facility)).size,
    }),
    ...(differ > 0 ? [notice("archive-clocks-differ", "caution", { studies: differ })] : []),
  ];
}
