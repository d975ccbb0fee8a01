import { type Column, tableColumns, tableNames } from "../records/columns.js";
import type { TableName } from "../records/study.js";

/** What a column of the archive holds: an instant is UTC, a day is local to the facility. */
export type ArchivedType = "text" | "number" | "instant" | "day" | "yes or no" | "json";

export interface ArchivedColumn {
  readonly name: string;
  readonly type: ArchivedType;
}

/** Tables made of the records as they count: decisions applied, one owner's reading of each row. */
export type CountedTable =
  | "weighings_counted"
  | "feeds_counted"
  | "shared_feeds"
  | "stays"
  | "conversion_windows"
  | "milestones";

export type ArchivedTable = TableName | CountedTable;

const text = (...names: string[]) => names.map((name): ArchivedColumn => ({ name, type: "text" }));
const number = (...names: string[]) =>
  names.map((name): ArchivedColumn => ({ name, type: "number" }));
const instant = (...names: string[]) =>
  names.map((name): ArchivedColumn => ({ name, type: "instant" }));
const day = (...names: string[]) => names.map((name): ArchivedColumn => ({ name, type: "day" }));
const yes = (...names: string[]) =>
  names.map((name): ArchivedColumn => ({ name, type: "yes or no" }));

/** Where every row of every table belongs. `animal` and `diet` are unique over all facilities. */
export const placeColumns: readonly ArchivedColumn[] = text(
  "facility",
  "season",
  "study",
  "generation",
);

const countedTables: Readonly<Record<CountedTable, readonly ArchivedColumn[]>> = {
  weighings_counted: [
    ...text("animal", "animal_id", "species"),
    ...instant("at_utc"),
    ...day("feeding_day"),
    ...number("net_g", "error_g", "age_d", "since_admission_d"),
    ...yes("age_usable", "stands_for_day", "suspected_slip"),
    ...text("decision"),
  ],
  feeds_counted: [
    ...text("animal", "animal_id", "species"),
    ...instant("at_utc"),
    ...day("feeding_day"),
    ...text("diet", "diet_id", "diet_kind", "route"),
    ...number("offered_g", "eaten_g", "eaten_low_g", "eaten_high_g"),
    ...number("kcal_per_g", "dry_matter_per_g", "water_per_g", "protein_per_g", "fat_per_g"),
    ...yes("usable", "doubted"),
    ...text("decision"),
  ],
  shared_feeds: [...text("animal", "animal_id"), ...instant("at_utc"), ...day("feeding_day")],
  stays: [
    ...text("animal", "animal_id", "species", "sex", "outcome", "main_diet"),
    ...instant("admitted_at", "record_from", "record_to"),
    ...number("arrival_mass_g", "arrival_age_d", "days_in_care"),
    ...yes("age_usable"),
  ],
  conversion_windows: [
    ...text("animal", "animal_id", "species", "phase"),
    ...instant("window_from", "window_to"),
    ...number("kcal", "gained_g"),
  ],
  milestones: [
    ...text("animal", "animal_id", "species", "milestone", "scale", "ended"),
    ...number("entered_d", "after_d", "by_d", "last_d", "looks"),
  ],
};

/** Beside its cells, every accepted row says where it stood and what could not be read. */
const originColumns: readonly ArchivedColumn[] = [
  ...text("origin_file"),
  ...number("origin_line"),
  ...text("origin_cell"),
  { name: "unread", type: "json" },
];

const types: Readonly<Record<Column["holds"], ArchivedType>> = {
  id: "text",
  text: "text",
  choice: "text",
  number: "number",
  value: "number",
  instant: "instant",
  "day start": "instant",
  date: "day",
  "rough date": "day",
  "ordered amount": "json",
  "ordered feeds": "json",
  "ordered times": "json",
  "ordered days": "json",
  "ordered end": "json",
};

/** A column of the records, with the key of its value in a row of the study. */
export interface RecordColumn extends ArchivedColumn {
  readonly key: string;
}

/** The columns that the study's own rows fill, by table. */
export function recordColumns(table: TableName): readonly RecordColumn[] {
  const more: readonly RecordColumn[] =
    table === "observations"
      ? [{ name: "value_text", key: "valueText", type: "text" }]
      : table === "animals"
        ? [{ name: "without_row", key: "withoutRow", type: "json" }]
        : [];
  const own = tableColumns[table].map(({ name, key, holds }) => ({
    // Words that SQL keeps for itself.
    name: ["at", "from", "to"].includes(name) ? `${name}_utc` : name,
    key,
    type: types[holds],
  }));
  return [...own, ...more];
}

const hasAnimal = (table: TableName) => tableColumns[table].some((c) => c.name === "animal_id");

/** Every table of an archive and all its columns, in the order in which they are written. */
export const archivedTables: Readonly<Record<ArchivedTable, readonly ArchivedColumn[]>> = {
  ...(Object.fromEntries(
    tableNames.map((table) => [
      table,
      [
        ...placeColumns,
        ...(hasAnimal(table) ? text("animal") : []),
        // The season of an animal is the place of its row.
        ...recordColumns(table).filter((c) => !placeColumns.some((p) => p.name === c.name)),
        ...originColumns,
      ],
    ]),
  ) as unknown as Record<TableName, readonly ArchivedColumn[]>),
  ...(Object.fromEntries(
    Object.entries(countedTables).map(([table, columns]) => [table, [...placeColumns, ...columns]]),
  ) as unknown as Record<CountedTable, readonly ArchivedColumn[]>),
};

export const archivedTableNames = Object.keys(archivedTables) as readonly ArchivedTable[];
