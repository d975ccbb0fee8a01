import type { ArchivedTable } from "./archived-tables.js";
import type { Cell } from "./load-engine.js";

/** Rows of one table, column by column, with the season that each is counted with. */
export interface TableRows {
  readonly table: ArchivedTable;
  readonly seasons: readonly (string | null)[];
  readonly columns: ReadonlyMap<string, readonly Cell[]>;
}

/** What an id of an animal is called over all facilities. */
export type UniqueId = (id: string) => string;
