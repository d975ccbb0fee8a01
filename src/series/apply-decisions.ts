import { type Notice, notice } from "../core/notice.js";
import type { DecisionRow, WeighingRow } from "./animal-series.js";

/** A weighing as decided: the row as written, and where and what it is taken for. */
export interface DecidedWeighing {
  readonly row: WeighingRow;
  readonly animalId: string;
  readonly at: number;
  readonly massG: number;
  readonly tareG: number | null;
  readonly decision: DecisionRow | null;
}

/**
 * Puts decisions beside the weighings they are about. Rows stay as written; a
 * correction only changes what the row is taken for. Every decision is
 * reported, applied or without a row.
 */
export function applyDecisions(
  weighings: readonly WeighingRow[],
  decisions: readonly DecisionRow[],
): { readonly weighings: DecidedWeighing[]; readonly notices: Notice[] } {
  const key = (x: { animalId: string; at: number; massG: number }) =>
    `${x.animalId}|${x.at}|${x.massG}`;
  const byKey = new Map(decisions.map((d) => [key(d), d] as const));
  const used = new Set<DecisionRow>();
  const decided = weighings.map((row): DecidedWeighing => {
    const decision = byKey.get(key(row)) ?? null;
    if (decision !== null) used.add(decision);
    const correct = decision?.decision === "correct" ? decision : null;
    return {
      row,
      animalId: correct?.newAnimalId ?? row.animalId,
      at: correct?.newAt ?? row.at,
      massG: correct?.newMassG ?? row.massG,
      tareG: correct?.newTareG ?? row.tareG,
      decision,
    };
  });
  return {
    weighings: decided,
    notices: decisions.map((d) =>
      notice(
        used.has(d) ? "series-decision-applied" : "series-decision-without-row",
        used.has(d) ? "info" : "caution",
        {
          decision: d.decision,
          massG: d.massG,
          at: d.at,
          newMassG: d.newMassG,
          newTareG: d.newTareG,
          newAt: d.newAt,
          newAnimal: d.newAnimalId,
          by: d.decidedBy,
          on: d.decidedOn,
          why: d.why,
        },
        { file: d.origin.file, line: d.origin.line, animal: d.animalId },
      ),
    ),
  };
}
