import type { CivilDate, Instant, StudySeries } from "../series/animal-series.js";
import type { KitchenBatch } from "../series/kitchen-batches.js";
import { feedingDayOf } from "../units/calendar.js";
import { type EnergyChoice, energyOf } from "./energy-of.js";

/** A batch whose energy is not that of its diet, or cannot be added up, with who drank how much of it. */
export interface BatchAway {
  readonly batchId: string;
  readonly dietId: string;
  readonly madeAt: Instant;
  readonly madeOn: CivilDate;
  readonly from: KitchenBatch["from"];
  /** kcal/g of the batch and of its diet; the batch's is null where its ingredients do not add up. */
  readonly kcalPerG: number | null;
  readonly dietKcalPerG: number;
  /** How far the batch lies from its diet, %; null where its ingredients do not add up. */
  readonly awayPct: number | null;
  readonly weighedG: number | null;
  readonly wholeG: number | null;
  /** Animals that were fed of it, those that ate most first; a range where a refusal is not known. */
  readonly eatenBy: readonly {
    readonly animalId: string;
    readonly eatenLowG: number;
    readonly eatenHighG: number;
  }[];
}

/**
 * A batch this far from its diet is named: with maintenance paid first, a tenth
 * less energy costs a growing animal a fifth of its gain and more. A choice of
 * this project.
 */
const namedFromPct = 10;

/**
 * Batches that lie more than 10 % from their diet's energy, and those whose weighed
 * ingredients do not add up to the batch, with who ate how much of each. Lots of
 * solids differ by nature and are named too.
 *
 * @example batchesAway(series, { from: "2031-05-01", to: "2031-05-14" })[0]?.awayPct // -22
 */
export function batchesAway(
  study: StudySeries,
  options: {
    readonly from?: CivilDate;
    readonly to?: CivilDate;
    readonly energy?: EnergyChoice;
  } = {},
): readonly BatchAway[] {
  const { zone, feedingDayStartHour } = study.settings;
  const suspects = study.batches.flatMap((batch): Omit<BatchAway, "eatenBy">[] => {
    const theirs = energyOf(batch.dietComposition, options.energy).kcalPerG.value;
    if (theirs === null || theirs <= 0) return [];
    const own = batch.doesNotAddUp
      ? null
      : energyOf(batch.composition, options.energy).kcalPerG.value;
    if (own === null && !batch.doesNotAddUp) return [];
    const awayPct = own === null ? null : 100 * (own / theirs - 1);
    if (awayPct !== null && Math.abs(awayPct) <= namedFromPct) return [];
    const { batchId, dietId, madeAt, from, weighedG, wholeG } = batch;
    return [
      {
        batchId,
        dietId,
        madeAt,
        madeOn: feedingDayOf(madeAt, zone, feedingDayStartHour),
        from,
        kcalPerG: own,
        dietKcalPerG: theirs,
        awayPct,
        weighedG,
        wholeG,
      },
    ];
  });
  if (suspects.length === 0) return [];
  const eaten = new Map(
    suspects.map((s) => [s.batchId, new Map<string, { low: number; high: number }>()]),
  );
  for (const { animal, feeds } of study.animals) {
    for (const f of feeds) {
      const by = f.row.batchId === null ? undefined : eaten.get(f.row.batchId);
      if (by === undefined) continue;
      if (options.from !== undefined && f.feedingDay < options.from) continue;
      if (options.to !== undefined && f.feedingDay > options.to) continue;
      const sum = by.get(animal.animalId) ?? { low: 0, high: 0 };
      by.set(animal.animalId, {
        low: sum.low + f.eatenLowG,
        high: sum.high + f.eatenHighG,
      });
    }
  }
  return suspects.flatMap((s) => {
    const by = [...eaten.get(s.batchId)!]
      .map(([animalId, { low, high }]) => ({ animalId, eatenLowG: low, eatenHighG: high }))
      .sort((a, b) => b.eatenHighG - a.eatenHighG || (a.animalId < b.animalId ? -1 : 1));
    return by.length === 0 ? [] : [{ ...s, eatenBy: by }];
  });
}
