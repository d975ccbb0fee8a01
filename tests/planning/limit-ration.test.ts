import { describe, expect, it } from "vitest";
import { limitRation } from "../../src/planning/limit-ration.js";
import type { SpeciesProfile } from "../../src/species/species-profile.js";

/** A made-up species; the rise of 10 % a day is the project's own choice. */
const start = Date.UTC(2025, 4, 1, 6);
const hour = 3_600_000;
const span = { day: "2025-05-01", from: start, to: start + 24 * hour, hours: 24 };
const times = (n: number) => Array.from({ length: n }, (_, i) => start + (24 / n) * i * hour);
type Input = Parameters<typeof limitRation>[0];
const of = (
  more: Partial<Input> & {
    readonly feedPct?: number | null;
    readonly hours?: readonly [number, number];
  },
) => {
  const { feedPct = null, hours = null, ...input } = more;
  const profile = {
    species: "grebbit",
    feedLimit: feedPct === null ? null : { value: feedPct },
    feedingRhythm: [{ fromD: 0, toD: 60, betweenHours: hours }],
  } as unknown as SpeciesProfile;
  return limitRation({
    animal: "P1",
    wantedG: 400,
    orderedG: null,
    massG: 2000,
    recentOfferedG: 400,
    waterPerG: null,
    limits: {},
    profile,
    ageD: 20,
    schedule: { times: times(8), from: "species profile", mostFeeds: 12 },
    span,
    zone: "UTC",
    ...input,
  });
};
const codes = (r: ReturnType<typeof of>) => r.notices.map((n) => n.code);
const binding = (r: ReturnType<typeof of>) => r.limits.filter((l) => l.binds).map((l) => l.limit);

describe("the rise from day to day", () => {
  it("is 10 % above what was offered lately, or what is entered", () => {
    const r = of({ wantedG: 500 });
    expect(r.grams).toBeCloseTo(440, 9);
    expect(binding(r)).toEqual(["rise from day to day"]);
    expect(r.notices[0]).toMatchObject({
      code: "ration-rise-limited",
      level: "caution",
      parameters: { animal: "P1", wanted: 500, value: 10 },
    });
    expect(r.limits[0]!.value).toMatchObject({ value: 10, unit: "%" });
    expect(of({ wantedG: 440 }).grams).toBe(440);
    expect(binding(of({ wantedG: 440 }))).toEqual([]);
    expect(of({ wantedG: 500, limits: { risePct: 20 } }).grams).toBe(480);
    expect(of({ wantedG: 500, limits: { risePct: null } })).toMatchObject({
      grams: 500,
      limits: [],
    });
  });

  it("cannot be told where nothing was offered lately, and that is said", () => {
    for (const recentOfferedG of [null, 0]) {
      const r = of({ wantedG: 900, recentOfferedG });
      expect([r.grams, codes(r)]).toEqual([
        900,
        ["ration-rise-not-judged", "ration-no-feed-limit"],
      ]);
    }
    expect(codes(of({ recentOfferedG: null, limits: { risePct: null } }))).toEqual([
      "ration-no-feed-limit",
    ]);
  });
});

describe("water", () => {
  it("limits a day only where a limit is entered and the water is known", () => {
    const limits = { waterMlPerKg: 160, risePct: null };
    // 320 mL for 2 kg: 400 g of four fifths water.
    const r = of({ wantedG: 500, waterPerG: 0.8, limits });
    expect(r.grams).toBe(400);
    expect(r.notices[0]).toMatchObject({
      code: "ration-water-limited",
      parameters: { value: 160 },
    });
    expect(r.limits[0]!.value).toMatchObject({ value: 160, unit: "mL/kg/d" });
    expect(of({ wantedG: 500, waterPerG: null, limits }).grams).toBe(500);
    expect(of({ wantedG: 500, waterPerG: 0, limits })).toMatchObject({ grams: 500, limits: [] });
    expect(of({ wantedG: 500, waterPerG: 0.8, limits: { risePct: null } }).grams).toBe(500);
  });
});

describe("the size of a feed", () => {
  const free = { limits: { risePct: null } } as const;
  it("makes more feeds first, as many as the rhythm allows", () => {
    // 2 % of 2 kg: 40 g a feed; 400 g need ten.
    const r = of({ ...free, feedPct: 2 });
    expect([r.grams, r.times.length, r.mostPerFeed]).toEqual([400, 10, 40]);
    expect(r.notices[0]).toMatchObject({
      code: "ration-more-feeds",
      parameters: { animal: "P1", from: 8, to: 10 },
    });
    expect(binding(r)).toEqual([]);
    // Spread over the day from its begin.
    expect(r.times[0]).toBe(start);
    expect(r.times[1]! - r.times[0]!).toBe(
      2.4 * hour - ((2.4 * hour) % 300_000) + ((2.4 * hour) % 300_000 >= 150_000 ? 300_000 : 0),
    );
  });

  it("is cut where the rhythm allows no more", () => {
    const r = of({ ...free, wantedG: 600, feedPct: 2 });
    expect([r.grams, r.times.length]).toEqual([480, 12]);
    expect(binding(r)).toEqual(["share of body mass per feed"]);
    expect(codes(r)).toEqual(["ration-more-feeds", "ration-feed-limited"]);
    expect(r.limits[0]!.value).toMatchObject({ value: 2, unit: "% of body mass" });
    // Without a rhythm no feed is added.
    const none = of({
      ...free,
      feedPct: 2,
      schedule: { times: times(8), from: "order", mostFeeds: null },
    });
    expect([none.grams, none.times.length, codes(none)]).toEqual([320, 8, ["ration-feed-limited"]]);
    // Fewer than it has are no reason to take any away.
    const fewer = of({
      ...free,
      feedPct: 2,
      schedule: { times: times(8), from: "order", mostFeeds: 6 },
    });
    expect(fewer.times).toHaveLength(8);
    // One that fits leaves all as it is.
    const fits = of({ ...free, wantedG: 320, feedPct: 2 });
    expect([fits.grams, fits.times, codes(fits)]).toEqual([320, times(8), []]);
  });

  it("leaves times that were entered", () => {
    const r = of({
      ...free,
      feedPct: 2,
      schedule: { times: times(8), from: "entered", mostFeeds: 12 },
    });
    expect([r.grams, r.times.length]).toEqual([320, 8]);
  });

  it("is in whole grams, and keeps to the hours of the rhythm", () => {
    expect(of({ ...free, massG: 2099, feedPct: 2 }).mostPerFeed).toBe(41);
    expect(of({ ...free, massG: 2050, feedPct: 2 }).mostPerFeed).toBe(41);
    const r = of({ ...free, feedPct: 2, hours: [8, 20] });
    expect([r.times[0], r.times.at(-1)]).toEqual([start + 2 * hour, start + 14 * hour]);
    // Of an age the rhythm does not have, over the whole day.
    expect(of({ ...free, feedPct: 2, hours: [8, 20], ageD: 99 }).times[0]).toBe(start);
  });

  it("goes by what is entered before the profile, and is told where neither has one", () => {
    expect(of({ limits: { risePct: null, feedPctOfMass: 3 }, feedPct: 2 }).mostPerFeed).toBe(60);
    const none = of({ ...free });
    expect([none.mostPerFeed, none.grams, none.times]).toEqual([null, 400, times(8)]);
    expect(none.notices).toMatchObject([
      { code: "ration-no-feed-limit", parameters: { species: "grebbit" } },
    ]);
  });
});

describe("an order", () => {
  const order = { orderedG: 500, wantedG: 500 } as const;
  it("is followed as it is, and that it goes beyond a limit is said", () => {
    const r = of({
      ...order,
      feedPct: 2,
      schedule: { times: times(8), from: "entered", mostFeeds: null },
    });
    expect([r.grams, r.mostPerFeed, binding(r)]).toEqual([500, null, []]);
    expect(codes(r)).toEqual(["ration-plan-over-limit", "ration-plan-over-limit"]);
    expect(r.notices[0]).toMatchObject({
      level: "caution",
      parameters: { animal: "P1", limit: "rise from day to day", wanted: 500 },
    });
    expect(r.limits.map((l) => l.limit)).toEqual([
      "rise from day to day",
      "share of body mass per feed",
    ]);
  });

  it("over a limit by half a per cent is rounding", () => {
    const at = (recentOfferedG: number) =>
      codes(of({ ...order, recentOfferedG, limits: { risePct: 0 } }));
    expect(at(497.6)).toEqual(["ration-no-feed-limit"]);
    expect(at(497.4)).toEqual(["ration-plan-over-limit", "ration-no-feed-limit"]);
    const told = of({ ...order, recentOfferedG: 498, limits: { risePct: 0 } });
    expect(told.limits).toMatchObject([{ limit: "rise from day to day", binds: false }]);
  });

  it("with more on top is cut to the limit, but not below itself", () => {
    // 440 g is the limit, 500 g were ordered, 600 g wanted.
    const r = of({ orderedG: 500, wantedG: 600 });
    expect(r.grams).toBe(500);
    expect(r.notices[0]!.parameters["most"]).toBe(500);
    expect(of({ orderedG: 420, wantedG: 600 }).grams).toBeCloseTo(440, 9);
    // Less than ordered was wanted: not raised.
    expect(of({ orderedG: 900, wantedG: 600 }).grams).toBe(600);
    expect(of({ orderedG: 420, wantedG: 600 }).limits[0]!.binds).toBe(true);
  });
});
