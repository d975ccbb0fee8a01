import { createHash } from "node:crypto";
import type { LongWork, Progress } from "../core/long-work.js";
import { type Notice, notice } from "../core/notice.js";
import { sizeLimits } from "../core/size-limits.js";
import { runSteps, type Steps } from "../core/steps.js";
import { UsageError } from "../core/usage-error.js";
import { readNumber } from "../units/read-quantity.js";
import { checkClocks } from "./check-clocks.js";
import { checkDateStyles, type DatedFile } from "./check-date-styles.js";
import { checkMasses } from "./check-masses.js";
import { checkProfiles } from "./check-profiles.js";
import { checkRows } from "./check-rows.js";
import { checkTimes } from "./check-times.js";
import { ColumnTable } from "./column-table.js";
import { requiredTables, tableKeys, tableNames } from "./columns.js";
import { type DraftRow, DraftRows, type Drafts } from "./draft-row.js";
import { draftRows } from "./draft-rows.js";
import { findTables, type StudyInput } from "./find-tables.js";
import { timedTables } from "./good-instants.js";
import { joinColumns, matchHeaders } from "./match-headers.js";
import { readPrior } from "./prior-file.js";
import { questionsOf } from "./questions-of.js";
import type { RawTable } from "./raw-table.js";
import type { Rows } from "./rows.js";
import { readSettings, type StudyFile } from "./settings.js";
import { settleNames } from "./settle-names.js";
import { ownText, SharedWords } from "./shared-words.js";
import type {
  AcknowledgementRow,
  AnimalRow,
  AnswerRow,
  ColumnUse,
  DecisionRow,
  SetAsideRow,
  Study,
  StudyTables,
  TableCount,
  TableName,
} from "./study.js";
import { weighVolumes } from "./weigh-volumes.js";

export type { StudyInput };

/**
 * Reads a study from its files; touches no disk. Every row ends accepted,
 * accepted with a notice, or set aside, and none is lost: that rows in =
 * accepted + set aside is checked on every call.
 *
 * Phases: settings; which file is which table; cells; rows against each other;
 * sorting into accepted and set aside; counting. It tells where it is, and hears a
 * signal, between two tables.
 *
 * @throws UsageError without study.json, without animals or weighings, or
 *   without a column that is required.
 * @example parseStudy([{ name: "study.json", text: settings }, { name: "animals.csv", text: animals }, { name: "weighings.csv", text: weighings }]).weighings.length // rows accepted
 */
export function parseStudy(files: readonly StudyInput[], work: LongWork = {}): Study {
  return runSteps(parseStudySteps(files), work);
}

/** The steps of `parseStudy`, to be run by whoever has other things to do in between. */
export function* parseStudySteps(files: readonly StudyInput[]): Steps<Study> {
  const study = settingsOf(files);
  const notices: Notice[] = [...study.notices];
  const tables = findTables(files, study, notices);
  for (const name of requiredTables)
    if (!tables.some((t) => t.table === name)) throw missing(name, files);

  const columns: ColumnUse[] = [];
  const words = new SharedWords();
  const drafts = new Map<TableName, DraftRows>();
  const sources: DatedFile[] = [];
  const steps = tables.length + 1;
  const at = (doing: string): Progress => ({ done: sources.length, total: steps, doing });
  // Each is let go once it is read: of a long table only the columns stay.
  for (let next = tables.shift(); next !== undefined; next = tables.shift()) {
    const { table, raw } = next;
    yield at(`reading ${raw.file}`);
    notices.push(...raw.notices.map((n) => ({ ...n, place: { table, ...n.place } })));
    const { rows, dateColumns } = readTable(table, raw, study, notices, columns, words);
    drafts.set(table, new DraftRows([...(drafts.get(table)?.files ?? []), ...rows.files]));
    sources.push({ table, file: raw.file, rows, dateColumns });
  }

  yield at("holding rows against each other");
  checkDateStyles(sources, study.settings, notices);
  settleNames(drafts, study.alsoCalled, notices);
  checkClocks(sources, study);
  weighVolumes(drafts, notices);
  const standIns = checkRows(drafts, study.settings);
  checkTimes(drafts, study.settings);
  checkMasses(drafts.get("weighings") ?? [], drafts.get("animals") ?? [], study.settings);
  notices.push(...checkProfiles(drafts.get("animals") ?? [], study.settings));
  const questions = questionsOf(drafts, knownIds(drafts, standIns));

  const { decisions, acknowledgements, answers, ...accepted } = acceptedTables(
    drafts,
    study,
    notices,
  );
  noteTables(accepted, drafts, study, notices);
  words.close();
  return {
    settings: study.settings,
    tables: accepted,
    setAside: [...drafts.values()].flatMap((rows) => rows.flatMap(setAsideRow)),
    counts: sources.map(({ table, file, rows }) => count(table, file, rows)),
    notices,
    ...(standIns.length === 0 ? {} : { standIns }),
    ...(questions.length === 0 ? {} : { questions }),
    ...(decisions.length === 0 ? {} : { decisions }),
    ...(acknowledgements.length === 0 ? {} : { acknowledgements }),
    ...(answers.length === 0 ? {} : { answers }),
    columns,
    inputs: files
      .filter((f) => f.tablesInside === undefined)
      .map((f) => ({
        path: f.path,
        sha256: createHash("sha256").update(f.bytes).digest("hex"),
        bytes: f.bytes.length,
      })),
  };
}

function settingsOf(files: readonly StudyInput[]): StudyFile {
  const file = files.find((f) => f.path.toLowerCase() === "study.json");
  if (file === undefined)
    throw new UsageError({
      needed: "a file study.json, which says the study's time zone",
      came: files.length === 0 ? "the folder is empty" : `the folder holds ${listed(files)}`,
      where: "study folder",
      todo: 'Make one, for example { "title": "2025", "species": "sea otter", "zone": "America/Los_Angeles" }, or start with "gramline new FOLDER".',
    });
  const asWritten = readSettings(new TextDecoder("utf-8").decode(file.bytes));
  const read = {
    ...asWritten,
    settings: {
      ...asWritten.settings,
      speciesOverrides: profileFiles(asWritten.settings.speciesOverrides, files),
    },
  };
  if (read.priors.length === 0) return read;
  const priors = read.priors.map((name) => {
    const prior = files.find((f) => f.path === name);
    if (prior !== undefined) return readPrior(new TextDecoder("utf-8").decode(prior.bytes), name);
    throw new UsageError({
      needed: `the prior file "${name}" that study.json names`,
      came: `the folder holds ${listed(files)}`,
      where: "study.json, priors",
      todo: "Put the file into the study's folder, or take its name out.",
    });
  });
  return { ...read, settings: { ...read.settings, priors } };
}

/** Profiles that stand in files of their own, `"walrus": "walrus-profile.json"`, read in their place. */
function profileFiles(
  overrides: Readonly<Record<string, unknown>>,
  files: readonly StudyInput[],
): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(overrides).map(([species, entries]) => {
      if (typeof entries !== "string") return [species, entries];
      const file = files.find((f) => f.path === entries);
      const wrong = (came: string) =>
        new UsageError({
          needed: `the profile file "${entries}" that study.json names for the ${species}`,
          came,
          where: "study.json, species_overrides",
          todo: "Put a JSON object of profile entries into that file of the study's folder, or write the entries into study.json.",
        });
      if (file === undefined) throw wrong(`the folder holds ${listed(files)}`);
      try {
        return [species, JSON.parse(new TextDecoder("utf-8").decode(file.bytes)) as unknown];
      } catch (fault) {
        throw wrong(
          `a file that is no JSON (${fault instanceof Error ? fault.message : "unreadable"})`,
        );
      }
    }),
  );
}

function readTable(
  table: TableName,
  asRead: RawTable,
  study: StudyFile,
  notices: Notice[],
  columns: ColumnUse[],
  words: SharedWords,
): Pick<DatedFile, "dateColumns"> & { readonly rows: DraftRows } {
  const raw = joinColumns(table, asRead, study);
  if (raw.header.length === 0 && raw.rows.length === 0) {
    const place = { file: raw.file, table };
    if (requiredTables.includes(table))
      throw new UsageError({
        needed: `a header and rows in the table of ${table}`,
        came: "the file is empty",
        where: raw.file,
        todo: "Put the records in, or remove the file.",
      });
    notices.push(notice("records-file-empty", "caution", {}, place));
    return { rows: new DraftRows([]), dateColumns: [] };
  }
  if (raw.header.length > sizeLimits.columns)
    throw new UsageError({
      needed: `a table of at most ${sizeLimits.columns} columns`,
      came: `it has ${raw.header.length}`,
      where: raw.file,
      todo: "Check the mark between its cells, or remove columns that are not needed.",
    });
  const headers = matchHeaders(table, raw, study);
  notices.push(...headers.notices);
  const at = { table, file: raw.file };
  for (const { column, header, unit, unitFrom } of headers.matched)
    columns.push({
      ...at,
      column: column.name,
      header,
      unit,
      unitFrom: unit === null ? null : unitFrom,
    });
  for (const header of headers.ignored)
    columns.push({ ...at, column: null, header, unit: null, unitFrom: null });
  const decimal = study.decimals.get(table) ?? study.settings.decimal;
  const decimalOf = (column: string) => study.decimals.get(`${table}.${column}`) ?? decimal;
  return {
    rows: new DraftRows([draftRows(table, raw, headers, study.settings, decimalOf, words)]),
    dateColumns: headers.matched
      .filter((m) => ["instant", "day start", "date", "ordered end"].includes(m.column.holds))
      .map((m) => ({ name: m.column.name, index: m.index })),
  };
}

type AllRows = StudyTables & {
  readonly decisions: readonly DecisionRow[];
  readonly acknowledgements: readonly AcknowledgementRow[];
  readonly answers: readonly AnswerRow[];
};

function acceptedTables(drafts: Drafts, study: StudyFile, notices: Notice[]): AllRows {
  const tables: Record<string, unknown> = {};
  for (const table of tableNames) {
    const rows = drafts.get(table);
    for (const draft of rows ?? [])
      if (draft.fault === null) for (const n of draft.notices) notices.push(inCell(n, draft));
    const parts = (rows?.files ?? []).map((file) => file.accepted());
    const kept = new ColumnTable(parts, table === "observations" ? withNumber(study) : null);
    tables[tableKeys[table]] = isLong(table) ? kept : [...kept];
  }
  return tables as unknown as AllRows;
}

/** Of these there are many for each animal; the rows of the others are made at once. */
const isLong = (table: TableName) => timedTables.some((long) => long === table);

/** The value of an observation as a number where its text is a bare one, and the text beside it. */
function withNumber(study: StudyFile): (row: Record<string, unknown>) => void {
  const decimal = study.decimals.get("observations") ?? study.settings.decimal;
  return (row) => {
    const text = row["value"] as string | null;
    const read = text === null ? null : readNumber(text, decimal);
    row["value"] = read?.kind === "number" ? read.value : null;
    row["valueText"] = text;
  };
}

/** Notices about whole tables rather than one row each. */
function noteTables(
  tables: StudyTables,
  drafts: Drafts,
  { settings }: StudyFile,
  notices: Notice[],
): void {
  const blank = (table: TableName, key: string) => {
    let n = 0;
    for (const row of drafts.get(table) ?? []) if (row.fault === null && row.get(key) === null) n++;
    return n;
  };
  const blankTares = blank("weighings", "tareG");
  if (blankTares > 0 && !settings.blankTareIsZero)
    notices.push(
      notice(
        "records-blank-tares",
        "caution",
        { count: blankTares, of: tables.weighings.length },
        { table: "weighings" },
      ),
    );
  const blankRefusals = blank("feeds", "refusedG");
  if (blankRefusals > 0 && !settings.blankRefusalIsNone)
    notices.push(
      notice(
        "records-blank-refusals",
        "info",
        { count: blankRefusals, of: tables.feeds.length },
        { table: "feeds" },
      ),
    );
}

function knownIds(drafts: Drafts, standIns: readonly AnimalRow[]): Set<string> {
  const ids = (drafts.get("animals") ?? []).map((draft) => String(draft.get("animalId")));
  return new Set([...ids, ...standIns.map((animal) => animal.animalId)]);
}

function setAsideRow(draft: DraftRow): SetAsideRow[] {
  if (draft.fault === null) return [];
  const { column, value } = draft.fault;
  const { table, file, line, cell } = draft;
  const raw = draft.raw.map(ownText);
  const reason = inCell(draft.fault.reason, draft);
  const suggestion = inCell(draft.fault.suggestion, draft);
  const row = { table, file, line, column, value, reason, suggestion, raw };
  return [cell === undefined ? row : { ...row, cell }];
}

/** A notice about a row that was made of one cell says which. */
function inCell(n: Notice, draft: DraftRow): Notice {
  return draft.cell === undefined ? n : { ...n, place: { ...n.place, cell: draft.cell } };
}

function count(table: TableName, file: string, rows: Rows<DraftRow>): TableCount {
  let accepted = 0;
  let acceptedWithNotice = 0;
  let setAside = 0;
  for (const row of rows) {
    if (row.fault !== null) setAside++;
    else {
      accepted++;
      if (row.notices.length > 0) acceptedWithNotice++;
    }
  }
  if (accepted + setAside !== rows.length)
    throw new Error(`${file}: ${rows.length} rows in, ${accepted} accepted, ${setAside} set aside`);
  return { table, file, rowsIn: rows.length, accepted, acceptedWithNotice, setAside };
}

function missing(table: TableName, files: readonly StudyInput[]): UsageError {
  return new UsageError({
    needed: `the table of ${table} (${table}.csv)`,
    came: `the folder holds ${listed(files)}`,
    where: "study folder",
    todo: `Add ${table}.csv, or say in study.json which file it is: "files": { "${table}": "their file.csv" }.`,
  });
}

function listed(files: readonly StudyInput[]): string {
  const names = files.map((f) => f.path);
  return names.length > 12 ? `${names.slice(0, 12).join(", ")} and more` : names.join(", ");
}
