import type { InputFile, Study, StudySettings, TableCount } from "../records/study.js";
import type { Cell } from "./load-engine.js";

/** A file of the archive, and what tells whether it is as it was written. */
export interface ArchivedFile {
  /** Relative to the archive, with "/" on every system. */
  readonly path: string;
  readonly table: string;
  readonly season: string | null;
  readonly rows: number;
  readonly bytes: number;
  readonly sha256: string;
}

/** What the archive says of one study: where its rows come from and how they were read. */
export interface ArchivedStudy {
  readonly facility: string;
  /** Key of the study in its facility; a study that comes again under it replaces its rows. */
  readonly study: string;
  /** The name it was added under; null where it may name a person. */
  readonly name: string | null;
  /** Which rows are in force: those of another generation are not. */
  readonly generation: string;
  readonly title: string | null;
  readonly zone: string;
  readonly feedingDayStartHour: number;
  /** Whether names and words of people are in it. */
  readonly withPeople: boolean;
  readonly gramlineVersion: string;
  /** SHA-256 over all input files. */
  readonly digest: string;
  readonly inputs: readonly InputFile[];
  readonly settings: StudySettings;
  readonly counts: readonly TableCount[];
  /** Rows set aside by table and reason. */
  readonly setAside: readonly {
    readonly table: string;
    readonly reason: string;
    readonly rows: number;
  }[];
  /** Accepted rows that are about people alone, by table, which are not in it. */
  readonly leftOut: Readonly<Record<string, number>>;
  /** Decisions of people: applied, and those that found no row. */
  readonly decisions: { readonly applied: number; readonly withoutRow: number };
  readonly animals: number;
  readonly files: readonly ArchivedFile[];
}

/** The list of studies: one file, replaced whole, which alone says what is in force. */
export const listName = "studies.parquet";

/** Shape of the archive; another one is refused. */
export const archiveFormat = 1;

const texts = [
  "facility",
  "study",
  "name",
  "generation",
  "title",
  "zone",
  "gramline_version",
  "digest",
  "settings",
  "inputs",
  "counts",
  "set_aside",
  "left_out",
  "files",
] as const;
const numbers = [
  "format",
  "feeding_day_start_hour",
  "rows_accepted",
  "rows_set_aside",
  "decisions_applied",
  "decisions_without_row",
  "animals",
] as const;

/** The columns of the list, and the SQL that makes its table. */
export const listColumns = [...texts, ...numbers, "with_people"] as const;
export const listTable = [
  ...texts.map((name) => `${name} VARCHAR`),
  ...numbers.map((name) => `${name} DOUBLE`),
  "with_people BOOLEAN",
].join(", ");

/** A study as a row of the list. */
export function listRow(study: ArchivedStudy): Record<(typeof listColumns)[number], Cell> {
  const sum = (pick: (c: TableCount) => number) => study.counts.reduce((n, c) => n + pick(c), 0);
  return {
    facility: study.facility,
    study: study.study,
    name: study.name,
    generation: study.generation,
    title: study.title,
    zone: study.zone,
    gramline_version: study.gramlineVersion,
    digest: study.digest,
    settings: JSON.stringify(study.settings),
    inputs: JSON.stringify(study.inputs),
    counts: JSON.stringify(study.counts),
    set_aside: JSON.stringify(study.setAside),
    left_out: JSON.stringify(study.leftOut),
    files: JSON.stringify(study.files),
    format: archiveFormat,
    feeding_day_start_hour: study.feedingDayStartHour,
    rows_accepted: sum((c) => c.accepted),
    rows_set_aside: sum((c) => c.setAside),
    decisions_applied: study.decisions.applied,
    decisions_without_row: study.decisions.withoutRow,
    animals: study.animals,
    with_people: study.withPeople,
  };
}

/** A row of the list as a study. */
export function studyOfRow(row: Readonly<Record<string, Cell>>): ArchivedStudy {
  const json = <T>(name: string) => JSON.parse(String(row[name])) as T;
  const text = (name: string) => (row[name] === null ? null : String(row[name]));
  return {
    facility: String(row["facility"]),
    study: String(row["study"]),
    name: text("name"),
    generation: String(row["generation"]),
    title: text("title"),
    zone: String(row["zone"]),
    feedingDayStartHour: Number(row["feeding_day_start_hour"]),
    withPeople: row["with_people"] === true,
    gramlineVersion: String(row["gramline_version"]),
    digest: String(row["digest"]),
    inputs: json("inputs"),
    settings: json("settings"),
    counts: json("counts"),
    setAside: json("set_aside"),
    leftOut: json("left_out"),
    decisions: {
      applied: Number(row["decisions_applied"]),
      withoutRow: Number(row["decisions_without_row"]),
    },
    animals: Number(row["animals"]),
    files: json("files"),
  };
}

/** Rows set aside, by table and reason, as counts: what stood in them stays with the study. */
export function setAsideCounts(study: Study): ArchivedStudy["setAside"] {
  const counts = new Map<string, number>();
  for (const { table, reason } of study.setAside) {
    const key = `${table}|${reason.code}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].sort().map(([key, rows]) => {
    const [table = "", reason = ""] = key.split("|");
    return { table, reason, rows };
  });
}
