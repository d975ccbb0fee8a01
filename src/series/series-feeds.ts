import { feedingDayOf } from "../units/calendar.js";
import { hourMs } from "../units/hour-ms.js";
import type {
  BatchRow,
  Composition,
  DietRow,
  FeedRow,
  SeriesFeed,
  StudySettings,
  SuspectedFeedSlip,
} from "./animal-series.js";
import type { DecidedFeed } from "./apply-decisions.js";
import { compositionOf, type KitchenBatch } from "./kitchen-batches.js";

/** Diets and batches by their name. */
export interface Kitchen {
  readonly diets: ReadonlyMap<string, DietRow>;
  readonly batches: ReadonlyMap<string, BatchRow>;
  readonly made: ReadonlyMap<string, KitchenBatch>;
  /** What is known already of a diet or batch, by the kind of diet. */
  readonly held: Map<DietRow | KitchenBatch, Map<DietRow["kind"], Held>>;
}

type Held = Composition & Pick<DietRow, "kind">;

/**
 * One feed with what is known about what was in it and how much was eaten: what
 * its batch holds, else what its diet says. A blank
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
  // More refused than offered: one of the two is wrong, and the refusal tells nothing.
  const eaten = refused === null || refused > row.offeredG ? null : row.offeredG - refused;
  return {
    row,
    at: row.at,
    feedingDay: feedingDayOf(row.at, settings.zone, settings.feedingDayStartHour),
    offeredG: row.offeredG,
    eatenG: eaten,
    eatenLowG: eaten ?? 0,
    eatenHighG: eaten ?? row.offeredG,
    composition: diet === undefined ? null : holds(diet, kitchen, row),
    densityGPerMl: diet?.densityGPerMl ?? null,
    dietId,
    batchAgeH: batch === undefined ? null : (row.at - batch.madeAt) / hourMs,
    useByH: batch?.useByH ?? diet?.useByH ?? null,
    ...(decision === null ? {} : { decision }),
  };
}

/** A feed under suspicion of a slip: what was eaten is a range over all that may have been meant. */
export function doubtedFeed(feed: SeriesFeed, slip: SuspectedFeedSlip): SeriesFeed {
  const { eatenLowG, eatenHighG } = slip;
  return { ...feed, eatenG: null, eatenLowG, eatenHighG, slip };
}

/**
 * What the batch holds; a batch of another diet counts only by numbers of its own.
 * Feeds of one diet and batch share one object.
 */
function holds(diet: DietRow, kitchen: Kitchen, row: FeedRow): Held {
  const batch = row.batchId === null ? undefined : kitchen.made.get(row.batchId);
  const of =
    batch === undefined || (batch.from === "diet" && batch.dietId !== diet.dietId) ? diet : batch;
  const known = kitchen.held.get(of)?.get(diet.kind);
  if (known !== undefined) return known;
  const found = { ...("composition" in of ? of.composition : compositionOf(of)), kind: diet.kind };
  kitchen.held.set(of, new Map(kitchen.held.get(of)).set(diet.kind, found));
  return found;
}
