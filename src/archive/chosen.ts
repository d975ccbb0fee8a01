import { type Cell, quoted } from "./load-engine.js";

/** Which rows of an archive are meant; nothing given means all. */
export interface Chosen {
  readonly facilities?: readonly string[];
  /** Compared without regard to capitals. */
  readonly species?: readonly string[];
  readonly seasons?: readonly string[];
  /** Keys of studies, as the list of the archive has them. */
  readonly studies?: readonly string[];
}

export type SumRow = Readonly<Record<string, Cell>>;

/** A condition on rows with facility, species, season and study; "true" where all are meant. */
export function chosenRows(chosen: Chosen, table: string): string {
  const among = (expression: string, values: readonly string[] | undefined) =>
    values === undefined
      ? []
      : [`${expression} IN (${["NULL", ...values.map(quoted)].join(", ")})`];
  const all = [
    ...among(`${table}.facility`, chosen.facilities),
    ...among(
      `lower(${table}.species)`,
      chosen.species?.map((s) => s.toLowerCase()),
    ),
    ...among(`${table}.season`, chosen.seasons),
    ...among(`${table}.study`, chosen.studies),
  ];
  return all.length === 0 ? "true" : all.join(" AND ");
}
