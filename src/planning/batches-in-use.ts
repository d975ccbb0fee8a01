import type { SeriesFeed, StudySeries } from "../series/animal-series.js";
import { hourMs } from "../units/hour-ms.js";

/** The batch of a diet that is being fed from, and when it must be discarded. */
export interface BatchInUse {
  readonly batchId: string;
  readonly dietId: string;
  readonly madeAt: number;
  readonly keepsH: number;
  readonly discardAt: number;
}

/**
 * The batch from which each diet was last fed up to an instant, where the records
 * say when it was made and how long it keeps. Nothing is assumed of a batch
 * without both, nor where the last feed names none.
 *
 * @example batchesInUse(series, at)[0]?.discardAt // madeAt + keepsH
 */
export function batchesInUse(study: StudySeries, at: number): readonly BatchInUse[] {
  const newest = new Map<string, SeriesFeed>();
  for (const feed of study.animals.flatMap((a) => a.feeds)) {
    if (feed.at > at || feed.dietId === null) continue;
    if (feed.at >= (newest.get(feed.dietId)?.at ?? Number.NEGATIVE_INFINITY))
      newest.set(feed.dietId, feed);
  }
  return [...newest].flatMap(([dietId, feed]): BatchInUse[] => {
    const { batchAgeH, useByH } = feed;
    const { batchId } = feed.row;
    if (batchId === null || batchAgeH === null || batchAgeH < 0 || useByH === null) return [];
    const madeAt = Math.round(feed.at - batchAgeH * hourMs);
    return [{ batchId, dietId, madeAt, keepsH: useByH, discardAt: madeAt + useByH * hourMs }];
  });
}
