/** A study as the generator knows it: every cell in our own plain writing, row by row. */
export interface TrueStudy {
  readonly settings: Readonly<Record<string, unknown>> & { readonly zone: string };
  readonly tables: Readonly<Record<string, TrueTable>>;
  /** What was planted for each animal, by its id. */
  readonly planted: Readonly<Record<string, Plant>>;
}

export interface TrueTable {
  readonly columns: readonly string[];
  readonly rows: readonly Cells[];
}

export type Cells = Readonly<Record<string, string>>;

export const plants = [
  "nothing",
  "cold",
  "vomit twice",
  "loss",
  "missed feeds",
  "nil by mouth",
] as const;
export type Plant = (typeof plants)[number];

/** Columns that hold a local date and time, written `YYYY-MM-DD HH:MM`. */
export const timed: ReadonlySet<string> = new Set(["at", "from", "to", "made_at", "admitted_at"]);
/** Columns that hold a date alone. */
export const dated: ReadonlySet<string> = new Set([
  "birth_date_earliest",
  "birth_date_latest",
  "outcome_date",
]);
/** Columns that hold a number. */
export const isNumber = (column: string): boolean =>
  /_(g|pct|h|per_g|per_ml|per_feed|per_day)$/.test(column) && column !== "batch_id";
