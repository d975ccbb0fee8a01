import { describe, expect, it } from "vitest";
import { feedReasons } from "../../../src/flags/levels/feed-reasons.js";
import type { SeriesFeed } from "../../../src/series/animal-series.js";
import { feedsEvery, hour } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf } from "./case-of.js";

/**
 * Limits of the project: three feeds missing beyond the usual pause and a quarter are a danger,
 * one is looked at. Fed every 3 h round the clock, that is 3.75 + 6 and 3.75 + 3 hours.
 */
const weighings = [[at - 100 * hour, 2000]] as const;
const fed = (lastH: number) => ({
  weighings,
  feeds: feedsEvery(3, at - lastH * hour - 150 * hour, at - lastH * hour + 1),
});
const of = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  feedReasons(caseOf(parts, over));
const whats = (...a: Parameters<typeof of>) => of(...a).map((r) => `${r.level}: ${r.what}`);

describe("feeds that are missing", () => {
  it("are looked at from one on, and a danger from three on", () => {
    expect(whats(fed(6))).toEqual([]);
    const [look] = of(fed(7));
    expect(look).toMatchObject({
      level: "second look",
      what: "missed feed",
      at: at - 7 * hour,
      act: "go and look now",
      byAt: at,
      size: { unit: "h", outwards: "higher", step: 3 },
    });
    expect(look!.size!.value).toBeCloseTo(7, 6);
    expect(look!.sentence).toMatchObject({
      level: "caution",
      parameters: { danger: false, running: true, refused: 0, from: at - 7 * hour },
    });
    const [danger] = of(fed(9.8));
    expect(danger).toMatchObject({
      level: "danger",
      what: "no feed",
      act: "call now, feed as ordered",
      byAt: at,
    });
    expect(danger!.sentence).toMatchObject({ level: "problem", parameters: { danger: true } });
  });

  it("are counted until anybody wrote anything", () => {
    expect(whats(fed(12), { heard: at - 7 * hour })).toEqual([]);
    expect(whats(fed(12), { heard: at - 5 * hour })).toEqual(["second look: missed feed"]);
  });

  it("and were given since ask nobody to go and look", () => {
    const parts = fed(8);
    const [look] = of({ ...parts, feeds: [...parts.feeds, { at: at - hour }] });
    expect(look).toMatchObject({ level: "second look", act: null, byAt: null });
    expect(look!.sentence.parameters["running"]).toBe(false);
    const long = fed(12);
    const [danger] = of({ ...long, feeds: [...long.feeds, { at: at - hour }] });
    expect(danger).toMatchObject({ level: "danger", act: "call now, feed as ordered", byAt: at });
  });
});

describe("an animal that was never fed", () => {
  const came = (hoursBack: number, more: CaseParts = {}) => ({
    animal: { admittedAt: at - hoursBack * hour },
    ...more,
  });

  it("is a danger after three of the longest intervals of its age", () => {
    expect(whats(came(9))).toEqual([]);
    const [reason, ...more] = of(came(9.1));
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      what: "no feed",
      at: at - 9.1 * hour,
      act: "call now, feed as ordered",
      byAt: at,
      size: { unit: "h", outwards: "higher", step: 3 },
    });
    expect(reason!.sentence).toMatchObject({
      level: "problem",
      parameters: { limit: 9, from: at - 9.1 * hour, refused: 0, running: true, danger: true },
    });
    expect(reason!.size!.value).toBeCloseTo(9.1, 9);
  });

  it("is judged for a week, until anybody wrote", () => {
    expect(whats(came(168))).toHaveLength(1);
    expect(whats(came(168.1))).toEqual([]);
    expect(whats(came(12), { heard: at - 3 * hour })).toEqual([]);
  });

  it("is judged only where feeds are ordered or written at all", () => {
    expect(whats(came(20), { feedsAreWritten: false })).toEqual([]);
    const plans = [{ from: at - 20 * hour, gPerFeed: 40, feedsPerDay: 8 }];
    expect(whats(came(20, { plans }), { feedsAreWritten: false })).toHaveLength(1);
    expect(whats({ animal: { admittedAt: null } })).toEqual([]);
    expect(whats(came(20, { limits: { noFeedTimes: null } }))).toEqual([]);
    expect(whats(came(20, { feeds: [{ at: at - hour }], weighings }))).toEqual([]);
  });

  it("of unknown age is judged by the longest interval of all, of an unknown species by 6 h", () => {
    const c = caseOf();
    const longest = Math.max(...c.profile.feedingRhythm.map((b) => b.everyH.range[1]));
    const limitOf = (over: Parameters<typeof caseOf>[1]) =>
      of(came(160), over)[0]!.sentence.parameters["limit"];
    expect(limitOf({ ageD: null })).toBe(3 * longest);
    expect(longest).toBeGreaterThan(3);
    expect(limitOf({ profile: { ...c.profile, feedingRhythm: [] } })).toBe(18);
  });
});

describe("a feed far above bounds", () => {
  /** Bound: 10 % of body mass, of 2,000 g. */
  const limits = { feedPctOfMass: 10 };
  const one = (offeredG: number, back = 1, refusedG: number | null = 0): CaseParts => {
    const { feeds } = fed(1);
    return {
      weighings,
      limits,
      feeds: feeds.map((f) => (f.at === at - back * hour ? { ...f, offeredG, refusedG } : f)),
    };
  };

  it("forbids the next one", () => {
    expect(whats(one(200))).toEqual([]);
    const [reason, ...more] = of(one(201));
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      what: "feed far above bounds",
      at: at - hour,
      act: "do not feed until spoken",
      byAt: at,
      size: { unit: "% of mass", outwards: "higher", step: 1 },
    });
    expect(reason!.size!.value).toBeCloseTo(10.05, 9);
    expect(reason!.sentence.parameters).toMatchObject({ fed: 201, bound: 10, doubted: false });
  });

  it("is what was surely eaten: what was refused, or may have been, is no danger", () => {
    expect(whats(one(300, 1, 150))).toEqual([]);
    expect(whats(one(300, 1, null))).toEqual([]);
    expect(whats(one(300, 1, 50))).toEqual(["danger: feed far above bounds"]);
  });

  it("counts for 24 h", () => {
    expect(whats(one(201, 22))).toHaveLength(1);
    const early = (back: number) =>
      of({
        ...one(50),
        feeds: [
          { at: at - back * hour, offeredG: 300 },
          ...fed(1).feeds.filter((f) => f.at > at - 24 * hour),
        ],
      });
    expect(early(23.9).map((r) => r.what)).toContain("feed far above bounds");
    expect(early(24).map((r) => r.what)).not.toContain("feed far above bounds");
  });

  it("is held against the mass before it, the first where there was none before", () => {
    const grown = [
      [at - 100 * hour, 2000],
      [at - 30 * hour, 3000],
      [at - hour / 2, 1000],
    ] as const;
    expect(whats({ ...one(290), weighings: grown })).toEqual([]);
    expect(whats({ ...one(310), weighings: grown })).toEqual(["danger: feed far above bounds"]);
    expect(whats({ ...one(150), weighings: grown.slice(2) })).toEqual([
      "danger: feed far above bounds",
    ]);
    expect(whats({ ...one(900), weighings: [] })).toEqual([]);
    // Weighed at the very minute of the feed.
    expect(whats({ ...one(150), weighings: [grown[0], [at - hour, 1000]] })).toHaveLength(1);
  });

  it("is not judged where the bound is switched off", () => {
    expect(whats({ ...one(900), limits: { feedPctOfMass: null } })).toEqual([]);
  });
});

describe("a feed that looks like a slip of the pen", () => {
  const doubting = (
    back: number,
    more: Partial<SeriesFeed> = {},
    limits: CaseParts["limits"] = {},
  ) => {
    const c = caseOf({ ...fed(1), limits });
    const feeds = c.series.feeds.map((f) =>
      f.at === at - back * hour
        ? ({
            ...f,
            offeredG: 500,
            eatenG: null,
            eatenLowG: 50,
            eatenHighG: 500,
            slip: {},
            ...more,
          } as SeriesFeed)
        : f,
    );
    return feedReasons({ ...c, series: { ...c.series, feeds } });
  };

  it("is asked about and suggestions wait; it is a danger by its worse meaning", () => {
    const found = doubting(1, {}, { feedPctOfMass: 10 });
    expect(found.map((r) => [r.level, r.what])).toEqual([
      ["danger", "feed far above bounds"],
      ["second look", "feed in doubt"],
    ]);
    expect(found[0]!.sentence.parameters).toMatchObject({ fed: 500, doubted: true });
    expect(found[1]).toMatchObject({ at: at - hour, suggestionsWait: true });
    expect(found[1]!.sentence.parameters).toMatchObject({ offered: 500, low: 50, high: 500 });
  });

  it("for the 24 h after it", () => {
    expect(doubting(22).map((r) => r.what)).toContain("feed in doubt");
    expect(doubting(25)).toEqual([]);
  });
});
