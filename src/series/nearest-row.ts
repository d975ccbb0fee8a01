import type { StudyTables } from "../records/study.js";
import { hourMs } from "../units/hour-ms.js";
import type { DecisionRow, RowOrigin } from "./animal-series.js";

/** The tables whose rows a decision can be about. */
export type DecidedTables = Pick<StudyTables, "weighings" | "feeds" | "observations">;

/** A row that a decision perhaps meant. */
export interface NearRow {
  readonly animalId: string;
  readonly at: number;
  /** What the row says, with its unit. */
  readonly what: string;
  readonly file: string;
  readonly line: number;
}

/** A row of another day or of far another amount is no likely meaning. */
const LIKELY = 3;

/**
 * The row nearest to what a decision names, for one that meets no row: another
 * minute, amount or animal is forgiven, at most so much together (an hour of
 * time, half of the amount, and another animal count alike).
 */
export function nearestRow(d: DecisionRow, tables: DecidedTables): NearRow | null {
  let best: NearRow | null = null;
  let least = LIKELY;
  const consider = (
    row: { animalId: string | null; at: number; origin: RowOrigin },
    apart: number,
    what: string,
  ) => {
    if (row.animalId === null) return;
    const off =
      Math.abs(row.at - d.at) / (6 * hourMs) + (row.animalId === d.animalId ? 0 : 1) + apart;
    if (off >= least) return;
    least = off;
    best = { animalId: row.animalId, at: row.at, what, ...row.origin };
  };
  const amount = (written: number, meant: number) =>
    written === meant ? 0 : written > 0 && meant > 0 ? Math.abs(Math.log2(written / meant)) : 1;
  const { massG, offeredG, kind, value } = d;
  if (offeredG !== undefined && offeredG !== null)
    for (const row of tables.feeds)
      consider(row, amount(row.offeredG, offeredG), `${row.offeredG} g offered`);
  else if (kind !== undefined && kind !== null) {
    for (const row of tables.observations)
      if (row.kind === kind)
        consider(
          row,
          (row.valueText ?? "") === (value ?? "") ? 0 : 0.5,
          [kind, row.valueText, row.unit].filter((x) => x !== null && x !== "").join(" "),
        );
  } else if (massG !== null)
    for (const row of tables.weighings)
      consider(row, amount(row.massG, massG), `a reading of ${row.massG} g`);
  return best;
}
