import type { AnimalSeries } from "../series/animal-series.js";
import { firstAfter } from "../series/rows-between.js";

/** A history as it was known at an instant: nothing later in it. */
export function seriesUpTo(series: AnimalSeries, at: number): AnimalSeries {
  const upTo = <T extends { readonly at: number }>(rows: readonly T[]) =>
    rows.slice(0, firstAfter(rows, at));
  return {
    ...series,
    weighings: upTo(series.weighings),
    daily: upTo(series.daily),
    feeds: upTo(series.feeds),
    sharedFeeds: upTo(series.sharedFeeds),
    signs: upTo(series.signs),
  };
}
