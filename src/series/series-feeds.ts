import { feedingDayOf } from "../units/calendar.js";
import type {
  BatchRow,
  Composition,
  DietRow,
  SeriesFeed,
  StudySettings,
  SuspectedFeedSlip,
} from "./animal-series.js";
import type { DecidedFeed } from "./apply-decisions.js";

/** Diets and batches by their name. */
export interface Kitchen {
  readonly diets: ReadonlyMap<string, DietRow>;
  readonly batches: ReadonlyMap<string, BatchRow>;
  /** What was worked out so far, by diet and batch. */
  readonly mixtures: Map<DietRow, Map<BatchRow | undefined, SeriesFeed["composition"]>>;
}

/**
 * One feed with what is known about what was in it and how much was eaten. A
 * batch's own composition overrides its diet's, number by number. A blank
 * refusal leaves eaten between nothing and all, unless the study says that
 * blank means none; "?" is no blank.
 */
export function seriesFeed(
  { row, decision }: DecidedFeed,
  kitchen: Kitchen,
  settings: StudySettings,
): SeriesFeed {
  const batch = row.batchId === null ? undefined : kitchen.batches.get(row.batchId);
  const dietId = row.dietId ?? batch?.dietId ?? null;
  const diet = dietId === null ? undefined : kitchen.diets.get(dietId);
  const blankIsNone = settings.blankRefusalIsNone && row.unread?.["refusedG"] === undefined;
  const refused = row.refusedG ?? (blankIsNone ? 0 : null);
  const eaten = refused === null ? null : row.offeredG - refused;
  return {
    row,
    at: row.at,
    feedingDay: feedingDayOf(row.at, settings.zone, settings.feedingDayStartHour),
    offeredG: row.offeredG,
    eatenG: eaten,
    eatenLowG: eaten ?? 0,
    eatenHighG: eaten ?? row.offeredG,
    composition: diet === undefined ? null : compositionOf(diet, batch, kitchen),
    densityGPerMl: diet?.densityGPerMl ?? null,
    dietId,
    batchAgeH: batch === undefined ? null : (row.at - batch.madeAt) / 3_600_000,
    useByH: batch?.useByH ?? diet?.useByH ?? null,
    ...(decision === null ? {} : { decision }),
  };
}

/** A feed under suspicion of a slip: what was eaten is a range over all that may have been meant. */
export function doubtedFeed(feed: SeriesFeed, slip: SuspectedFeedSlip): SeriesFeed {
  const { eatenLowG, eatenHighG } = slip;
  return { ...feed, eatenG: null, eatenLowG, eatenHighG, slip };
}

/** What a batch of a diet is made of; feeds of one batch share it. */
function compositionOf(diet: DietRow, batch: BatchRow | undefined, { mixtures }: Kitchen) {
  const known = mixtures.get(diet) ?? new Map<BatchRow | undefined, SeriesFeed["composition"]>();
  mixtures.set(diet, known);
  const found = known.get(batch) ?? { ...mixed(diet, batch), kind: diet.kind };
  known.set(batch, found);
  return found;
}

function mixed(diet: DietRow, batch: BatchRow | undefined): Composition {
  // A blank cell of a batch means the diet's number; an unread one is not known.
  const own = (key: keyof Composition) =>
    batch?.[key] ?? (batch?.unread?.[key] === undefined ? diet[key] : null);
  return {
    waterPct: own("waterPct"),
    proteinPct: own("proteinPct"),
    fatPct: own("fatPct"),
    carbohydratePct: own("carbohydratePct"),
    fibrePct: own("fibrePct"),
    ashPct: own("ashPct"),
    energyKcalPerG: own("energyKcalPerG"),
  };
}
