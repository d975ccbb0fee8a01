import { describe, expect, it } from "vitest";
import { usableFeeds } from "../../src/rates/usable-feeds.js";
import type { AnimalSeries, SeriesFeed } from "../../src/series/animal-series.js";

const day = 24 * 3_600_000;
const feed = (offeredG: number, refusedG: number | null, more: Partial<SeriesFeed> = {}) =>
  ({
    at: 10 * day,
    offeredG,
    eatenLowG: refusedG === null ? 0 : offeredG - refusedG,
    eatenHighG: refusedG === null ? offeredG : offeredG - refusedG,
    row: { refusedG, origin: { file: "feeds.csv", line: 7 } },
    ...more,
  }) as unknown as SeriesFeed;
const of = (feeds: readonly SeriesFeed[], birthEarliest: number | null = null) =>
  usableFeeds({
    feeds,
    age: { birthEarliest },
    animal: { animalId: "P1" },
  } as unknown as AnimalSeries);
const eaten = (one: SeriesFeed) => of([one]).feeds.map((f) => [f.eatenG.low, f.eatenG.high]);

describe("feeds that can be counted", () => {
  it("are those with an offer and a refusal that can be, between what they may mean", () => {
    expect(eaten(feed(50, 10))).toEqual([[40, 40]]);
    expect(eaten(feed(50, null))).toEqual([[0, 50]]);
    expect(eaten(feed(0, 0))).toEqual([[0, 0]]);
    expect(eaten(feed(50, 50))).toEqual([[0, 0]]);
    const plain = of([feed(50, 10)]);
    expect([plain.leftOut, plain.notices]).toEqual([[], []]);
    expect(plain.feeds[0]).toMatchObject({ at: 10 * day, feed: { offeredG: 50 } });
  });

  it.each([
    ["above the offer", 51],
    ["below nothing", -1],
  ])("with a refusal %s are between nothing and all, and named", (_, refusedG) => {
    const { feeds, notices, leftOut } = of([feed(50, refusedG)]);
    expect(feeds.map((f) => [f.eatenG.low, f.eatenG.high])).toEqual([[0, 50]]);
    expect(leftOut).toEqual([]);
    expect(notices).toMatchObject([
      {
        code: "feed-refusal-impossible",
        parameters: { at: 10 * day, offered: 50, refused: refusedG },
        place: { table: "feeds", file: "feeds.csv", line: 7, animal: "P1" },
      },
    ]);
  });

  it("under suspicion of a slip keep their range, since they were asked about already", () => {
    const slip = feed(50, 60, {
      slip: {} as NonNullable<SeriesFeed["slip"]>,
      eatenLowG: 5,
      eatenHighG: 45,
    });
    expect(eaten(slip)).toEqual([[5, 45]]);
    expect(of([slip]).notices).toEqual([]);
  });

  it.each([Number.NaN, -1, Number.POSITIVE_INFINITY])(
    "with an offer of %f are left out and named",
    (offered) => {
      const { feeds, notices, leftOut } = of([feed(offered, 0), feed(50, 0)]);
      expect(feeds).toHaveLength(1);
      expect(leftOut).toEqual([{ reason: "the offer is no mass", count: 1 }]);
      expect(notices).toMatchObject([{ code: "feed-offer-impossible", place: { line: 7 } }]);
    },
  );

  it("before the earliest birth date are left out; its morning is not before it", () => {
    // Ages count from noon.
    const noon = 10 * day + day / 2;
    expect(of([feed(50, 0)], noon).feeds).toHaveLength(1);
    const { feeds, leftOut, notices } = of([feed(50, 0), feed(50, 0)], noon + 1);
    expect(feeds).toEqual([]);
    expect(leftOut).toEqual([{ reason: "before the earliest birth date", count: 2 }]);
    expect(notices[0]).toMatchObject({
      code: "feed-before-birth",
      level: "problem",
      parameters: { at: 10 * day },
      place: { animal: "P1" },
    });
  });
});
