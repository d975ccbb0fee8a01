import { type Notice, notice } from "../core/notice.js";
import type { DecisionRow, FeedRow, ObservationRow, WeighingRow } from "./animal-series.js";
import { type DecidedTables, nearestRow } from "./nearest-row.js";

/** A weighing as decided: the row as written, and where and what it is taken for. */
export interface DecidedWeighing {
  readonly row: WeighingRow;
  readonly animalId: string;
  readonly at: number;
  readonly massG: number;
  readonly tareG: number | null;
  readonly decision: DecisionRow | null;
}

/** A feed with its amounts, time and animal as decided. */
export interface DecidedFeed {
  readonly row: FeedRow;
  readonly decision: DecisionRow | null;
}

/**
 * Puts decisions beside the rows they are about. A decision names its row by the
 * animal, the time and what the row says: the reading of a weighing, the amount
 * offered at a feed, the kind and value of an observation. Weighings stay as
 * written beside what they are taken for; feeds and observations are handed on as
 * decided, and those left out are not. Every decision is reported: applied, or
 * without a row and then with the nearest one that was perhaps meant.
 */
export function applyDecisions(
  tables: DecidedTables,
  decisions: readonly DecisionRow[],
): {
  readonly weighings: DecidedWeighing[];
  /** The feeds of an animal in the order of their rows, made anew each time. */
  readonly feedsOf: (animalId: string) => DecidedFeed[];
  readonly observations: readonly ObservationRow[];
  readonly notices: Notice[];
} {
  const byKey = new Map(decisions.map((d) => [keyOfDecision(d), d] as const));
  const used = new Set<DecisionRow>();
  const decisionOf = (key: string) => {
    const decision = byKey.get(key) ?? null;
    if (decision !== null) used.add(decision);
    return decision;
  };
  const none = decisions.length === 0;
  const weighings = tables.weighings.map((row): DecidedWeighing => {
    const decision = none ? null : decisionOf(keyOf(row, `${row.massG} g`));
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
  const asDecided = (row: FeedRow): DecidedFeed | null => {
    const decision =
      none || row.animalId === null ? null : decisionOf(keyOf(row, `${row.offeredG} g offered`));
    if (decision?.decision === "leave out") return null;
    return { row: decision?.decision === "correct" ? correctedFeed(row, decision) : row, decision };
  };
  const feeds = placesByAnimal(tables.feeds, (row) => asDecided(row)?.row.animalId ?? null);
  const observations = none
    ? [...tables.observations]
    : tables.observations.flatMap((row): ObservationRow[] => {
        const decision = decisionOf(keyOf(row, `${row.kind} ${row.valueText ?? ""}`));
        if (decision === null) return [row];
        if (decision.decision === "leave out") return [];
        const decided = { decided: decision.decision } as const;
        if (decision.decision === "keep") return [{ ...row, ...decided }];
        return [{ ...correctedObservation(row, decision), ...decided }];
      });
  return {
    weighings,
    feedsOf: (animalId) =>
      (feeds.get(animalId) ?? []).map((place) => asDecided(tables.feeds.at(place)!)!),
    observations,
    notices: decisions.map((d) => decisionNotice(d, used.has(d), tables)),
  };
}

/** Where the rows of each animal stand: of a million feeds no row is kept. */
function placesByAnimal<Row>(
  rows: Iterable<Row>,
  animalOf: (row: Row) => string | null,
): ReadonlyMap<string, readonly number[]> {
  const found = new Map<string, number[]>();
  let place = 0;
  for (const row of rows) {
    const animal = animalOf(row);
    const own = animal === null ? undefined : found.get(animal);
    if (own !== undefined) own.push(place);
    else if (animal !== null) found.set(animal, [place]);
    place++;
  }
  return found;
}

const keyOf = (row: { animalId: string | null; at: number }, what: string) =>
  `${row.animalId}|${row.at}|${what}`;

function keyOfDecision(d: DecisionRow): string {
  if (d.offeredG !== undefined && d.offeredG !== null) return keyOf(d, `${d.offeredG} g offered`);
  if (d.kind !== undefined && d.kind !== null) return keyOf(d, `${d.kind} ${d.value ?? ""}`);
  return keyOf(d, `${d.massG} g`);
}

function correctedFeed(row: FeedRow, d: DecisionRow): FeedRow {
  return {
    ...row,
    animalId: d.newAnimalId ?? row.animalId,
    at: d.newAt ?? row.at,
    offeredG: d.newOfferedG ?? row.offeredG,
    refusedG: d.newRefusedG ?? row.refusedG,
  };
}

function correctedObservation(row: ObservationRow, d: DecisionRow): ObservationRow {
  const text = d.newValue ?? null;
  const number = text === null || text.trim() === "" ? Number.NaN : Number(text);
  return {
    ...row,
    animalId: d.newAnimalId ?? row.animalId,
    at: d.newAt ?? row.at,
    ...(text === null ? {} : { valueText: text, value: Number.isFinite(number) ? number : null }),
    unit: d.newUnit ?? row.unit,
  };
}

function decisionNotice(d: DecisionRow, applied: boolean, tables: DecidedTables): Notice {
  const near = applied ? null : nearestRow(d, tables);
  return notice(
    applied ? "series-decision-applied" : "series-decision-without-row",
    applied ? "info" : "caution",
    {
      decision: d.decision,
      massG: d.massG,
      offeredG: d.offeredG ?? null,
      kind: d.kind ?? null,
      value: d.value ?? null,
      at: d.at,
      newMassG: d.newMassG,
      newTareG: d.newTareG,
      newOfferedG: d.newOfferedG ?? null,
      newRefusedG: d.newRefusedG ?? null,
      newValue: d.newValue ?? null,
      newUnit: d.newUnit ?? null,
      newAt: d.newAt,
      newAnimal: d.newAnimalId,
      by: d.decidedBy,
      on: d.decidedOn,
      why: d.why,
      animal: d.animalId,
      near: near?.what ?? null,
      nearAnimal: near?.animalId ?? null,
      nearAt: near?.at ?? null,
      nearFile: near?.file ?? null,
      nearLine: near?.line ?? null,
    },
    { file: d.origin.file, line: d.origin.line, animal: d.animalId },
  );
}
