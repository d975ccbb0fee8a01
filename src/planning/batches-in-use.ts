import type { StudySeries } from "../series/animal-series.js";

/** The batch of a diet that is being fed from, and when it must be discarded. */
export interface BatchInUse {
  readonly batchId: string;
  readonly dietId: string;
  readonly madeAt: number;
  readonly keepsH: number;
  readonly discardAt: number;
}

const hourMs = 3_600_000;

/**
 * The newest batch of each diet that was fed from up to an instant, where the
 * records say when it was made and how long it keeps. Nothing is assumed of a
 * batch without both.
 *
 * @example batchesInUse(series, at)[0]?.discardAt // madeAt + keepsH
 */
export function batchesInUse(study: StudySeries, at: number): readonly BatchInUse[] {
  const newest = new Map<string, BatchInUse>();
  for (const feed of study.animals.flatMap((a) => a.feeds)) {
    const { dietId, batchAgeH, useByH } = feed;
    const { batchId } = feed.row;
    if (feed.at > at || dietId === null || batchId === null) continue;
    if (batchAgeH === null || batchAgeH < 0 || useByH === null) continue;
    const madeAt = Math.round(feed.at - batchAgeH * hourMs);
    if (madeAt <= (newest.get(dietId)?.madeAt ?? Number.NEGATIVE_INFINITY)) continue;
    const discardAt = madeAt + useByH * hourMs;
    newest.set(dietId, { batchId, dietId, madeAt, keepsH: useByH, discardAt });
  }
  return [...newest.values()];
}
