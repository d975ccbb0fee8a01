import { type Notice, notice } from "../core/notice.js";
import { type ColumnReading, placed, readCell } from "./read-cell.js";
import type { SetAsideRow, TableName } from "./study.js";

/** Which columns of a file are added up, and how they are read. */
export interface TotalPlan {
  readonly file: string;
  readonly table: TableName;
  readonly delimiter: string;
  readonly columns: number;
  readonly animal: { readonly index: number; readonly how: ColumnReading };
  readonly at: { readonly index: number; readonly how: ColumnReading };
  readonly amount: { readonly index: number; readonly how: ColumnReading };
  /** A column of words that keeps groups apart, where there is one. */
  readonly kind: { readonly index: number; readonly how: ColumnReading } | null;
  /** Names that are allowed; null: any. */
  readonly knownAnimals: ReadonlySet<string> | null;
  /** Called for every row set aside. */
  readonly onSetAside: (row: SetAsideRow) => void;
  /** Why the time of a row must be asked about, though it can be read; null where no time need. */
  readonly doubtTime: DoubtTime | null;
}

/** The reason for which the time of a row is asked about, or null. */
export type DoubtTime = (
  row: Pick<TotalRow, "at" | "timed">,
  written: string,
  line: number,
) => "records-half-of-day-doubtful" | "records-night-date-doubtful" | null;

/** What a row adds: whose, when, of which kind and how much. */
export interface TotalRow {
  readonly animal: string;
  readonly at: number;
  /** Whether a clock time was written, or a date alone. */
  readonly timed: boolean;
  readonly kind: string;
  readonly amount: number;
}

const clockTodo = "suggest-clock-layout";
const nightTodo = "suggest-night-layout";

/**
 * Reads a row cell by cell, as the rows of small files are read: what it adds,
 * the row as it is set aside, or null for one of nothing but blanks.
 */
export function readTotalRow(
  cells: readonly string[],
  broken: Notice | null,
  line: number,
  plan: TotalPlan,
): TotalRow | SetAsideRow | null {
  if (broken === null && cells.every((cell) => cell.trim() === "")) return null;
  const { file, table } = plan;
  const place = { file, table, line };
  const aside = (
    column: string | null,
    value: string | null,
    reason: Notice,
    suggestion: Notice,
  ): SetAsideRow => ({ table, file, line, column, value, reason, suggestion, raw: cells });
  if (broken !== null) {
    const todo = notice("suggest-close-quote", "info", {}, place);
    return aside(null, cells[0] ?? null, { ...broken, place }, todo);
  }
  const extra = cells.slice(plan.columns).find((cell) => cell.trim() !== "");
  if (extra !== undefined) {
    const counts = { cells: cells.length, columns: plan.columns };
    return aside(
      null,
      extra,
      notice("records-too-many-cells", "problem", counts, place),
      notice("suggest-quote-delimiter", "info", {}, place),
    );
  }
  const values: unknown[] = [];
  let timed = true;
  for (const { index, how } of [plan.animal, plan.at, plan.amount]) {
    const cell = cells[index] ?? "";
    const outcome = readCell(cell, how);
    if ("reason" in outcome) {
      const here = { ...place, column: how.column.name };
      const todo = placed(outcome.suggestion, "info", here);
      return aside(how.column.name, cell, placed(outcome.reason, "problem", here), todo);
    }
    if (outcome.notice?.code === "records-time-of-day-missing") timed = false;
    values.push(outcome.value);
  }
  const [animal, at, amount] = values as [string, number, number];
  const written = cells[plan.at.index] ?? "";
  const doubt = plan.doubtTime?.({ at, timed }, written, line) ?? null;
  if (doubt !== null) {
    const here = { ...place, column: "at", animal };
    const todo = doubt === "records-half-of-day-doubtful" ? clockTodo : nightTodo;
    return aside("at", written, notice(doubt, "problem", {}, here), notice(todo, "info", {}, here));
  }
  // Ditto marks and dashes are nobody's name, whoever is known.
  const named = /[\p{L}\p{N}\p{S}]/u.test(animal) && !/^[=+~^`|<>]+$/.test(animal);
  if (!named || (plan.knownAnimals !== null && !plan.knownAnimals.has(animal))) {
    const here = { ...place, column: "animal_id" };
    const which = { animal, close: null };
    return aside(
      "animal_id",
      animal,
      notice("records-unknown-animal", "problem", which, here),
      notice("suggest-add-animal", "info", which, here),
    );
  }
  const kind = plan.kind === null ? null : readCell(cells[plan.kind.index] ?? "", plan.kind.how);
  const word = kind !== null && "value" in kind && typeof kind.value === "string" ? kind.value : "";
  return { animal, at, timed, kind: word, amount };
}
