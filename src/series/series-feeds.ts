import { feedingDayOf } from "../units/calendar.js";
import type {
  BatchRow,
  Composition,
  DietRow,
  FeedRow,
  SeriesFeed,
  StudySettings,
} from "./animal-series.js";

/** Diets and batches by their name. */
export interface Kitchen {
  readonly diets: ReadonlyMap<string, DietRow>;
  readonly batches: ReadonlyMap<string, BatchRow>;
}

/**
 * One feed with what is known about what was in it and how much was eaten. A
 * batch's own composition overrides its diet's, number by number. A blank
 * refusal leaves eaten between nothing and all, unless the study says that
 * blank means none.
 */
export function seriesFeed(row: FeedRow, kitchen: Kitchen, settings: StudySettings): SeriesFeed {
  const batch = row.batchId === null ? undefined : kitchen.batches.get(row.batchId);
  const dietId = row.dietId ?? batch?.dietId ?? null;
  const diet = dietId === null ? undefined : kitchen.diets.get(dietId);
  const refused = row.refusedG ?? (settings.blankRefusalIsNone ? 0 : null);
  const eaten = refused === null ? null : row.offeredG - refused;
  return {
    row,
    at: row.at,
    feedingDay: feedingDayOf(row.at, settings.zone, settings.feedingDayStartHour),
    offeredG: row.offeredG,
    eatenG: eaten,
    eatenLowG: eaten ?? 0,
    eatenHighG: eaten ?? row.offeredG,
    composition: diet === undefined ? null : { ...mixed(diet, batch), kind: diet.kind },
    densityGPerMl: diet?.densityGPerMl ?? null,
    dietId,
    batchAgeH: batch === undefined ? null : (row.at - batch.madeAt) / 3_600_000,
    useByH: batch?.useByH ?? diet?.useByH ?? null,
  };
}

function mixed(diet: DietRow, batch: BatchRow | undefined): Composition {
  return {
    waterPct: batch?.waterPct ?? diet.waterPct,
    proteinPct: batch?.proteinPct ?? diet.proteinPct,
    fatPct: batch?.fatPct ?? diet.fatPct,
    carbohydratePct: batch?.carbohydratePct ?? diet.carbohydratePct,
    fibrePct: batch?.fibrePct ?? diet.fibrePct,
    ashPct: batch?.ashPct ?? diet.ashPct,
    energyKcalPerG: batch?.energyKcalPerG ?? diet.energyKcalPerG,
  };
}
