import type {
  AnimalSeries,
  FeedRow,
  ObservationRow,
  SeriesFeed,
} from "../../src/series/animal-series.js";
import { localNoon } from "../../src/units/calendar.js";
import type { LooseOrder } from "../series/plan-row.js";
import { origin } from "./invented-study.js";

export const hour = 3_600_000;

/** An invented observation. */
export function observed(
  animalId: string,
  at: number,
  kind: ObservationRow["kind"],
  valueText: string | null,
  unit: string | null = null,
): ObservationRow {
  const value = valueText === null || Number.isNaN(Number(valueText)) ? null : Number(valueText);
  return { animalId, at, kind, value, valueText, unit, notes: null, origin };
}

export interface InventedFeed {
  readonly at: number;
  readonly offeredG: number;
  /** Null: not written. */
  readonly refusedG: number | null;
  readonly dietId?: string;
  readonly kcalPerG?: number | null;
  readonly kind?: "formula" | "solid";
}

/** The row of a feed, for one animal or for a group. */
export function feedRow(animalId: string | null, f: InventedFeed): FeedRow {
  return {
    animalId,
    groupId: animalId === null ? "group" : null,
    at: f.at,
    dietId: f.dietId ?? "F",
    batchId: null,
    offeredG: f.offeredG,
    refusedG: f.refusedG,
    route: "bottle",
    notes: null,
    origin,
  };
}

/** The series with these feeds. */
export function withFeeds(series: AnimalSeries, feeds: readonly InventedFeed[]): AnimalSeries {
  return {
    ...series,
    feeds: feeds.map((f): SeriesFeed => {
      const eaten = f.refusedG === null ? null : f.offeredG - f.refusedG;
      const kcal = f.kcalPerG === undefined ? 2 : f.kcalPerG;
      return {
        row: feedRow(series.animal.animalId, f),
        at: f.at,
        feedingDay: new Date(f.at).toISOString().slice(0, 10),
        offeredG: f.offeredG,
        eatenG: eaten,
        eatenLowG: eaten ?? 0,
        eatenHighG: eaten ?? f.offeredG,
        composition: {
          waterPct: null,
          proteinPct: null,
          fatPct: null,
          carbohydratePct: null,
          fibrePct: null,
          ashPct: null,
          energyKcalPerG: kcal,
          kind: f.kind ?? "formula",
        },
        densityGPerMl: null,
        dietId: f.dietId ?? "F",
        batchAgeH: null,
        useByH: null,
      };
    }),
  };
}

/** Eight feeds a day, every 3 h from 01:00 UTC, on every weighed day; `of` gives one feed. */
export function everyThreeHours(
  series: AnimalSeries,
  of: (day: string, index: number) => Omit<InventedFeed, "at"> | null,
): AnimalSeries {
  const feeds = series.daily.flatMap((d) =>
    Array.from({ length: 8 }, (_, k) => {
      const feed = of(d.feedingDay, k);
      const at = localNoon(d.feedingDay, "UTC") - 12 * hour + (3 * k + 1) * hour;
      return feed === null ? [] : [{ at, ...feed }];
    }).flat(),
  );
  return withFeeds(series, feeds);
}

/** An order without an end, from an instant on: eight feeds of 60 g. */
export function plan(animalId: string, from: number, more: Partial<LooseOrder> = {}): LooseOrder {
  return { animalId, from, dietId: "F", gPerFeed: 60, feedsPerDay: 8, ...more };
}
