import { describe, expect, it } from "vitest";
import { silenceLimitH, silenceReasons } from "../../../src/flags/levels/silence-reasons.js";
import { clam, day, feedsEvery, formula, hour, start } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf } from "./case-of.js";

/**
 * Limits of the project: two feed intervals and at most 6 h in the very young; of others twice
 * their median gap and at most 12 h. Lines of other animals go on until `at`.
 */
const of = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  silenceReasons(caseOf(parts, over));
const silent = (...a: Parameters<typeof of>) => of(...a).length > 0;
const old = { veryYoung: false, ageD: 200 };
/** Fed every so many hours round the clock, the last time so many hours ago. */
const fedEvery = (everyH: number, lastH: number) => ({
  feeds: feedsEvery(everyH, at - lastH * hour - 48 * everyH * hour, at - lastH * hour + 1),
});

describe("a silence", () => {
  it("of the very young is two of its feed intervals without a line", () => {
    expect(silent(fedEvery(2, 4))).toBe(false);
    const [reason] = of({ ...fedEvery(2, 4.1), weighings: [[at - 60 * hour, 2000]] });
    expect(reason).toMatchObject({
      level: "second look",
      what: "silence",
      at: at - 4.1 * hour,
      act: "go and look now",
      byAt: at,
      suggestionsWait: true,
    });
    expect(reason!.sentence.level).toBe("problem");
    expect(reason!.sentence.parameters).toMatchObject({
      animal: "P1",
      limit: 4,
      last: at - 4.1 * hour,
      everWritten: true,
      mass: 2000,
      massAt: at - 60 * hour,
    });
    expect(reason!.sentence.parameters["hours"]).toBeCloseTo(4.1, 9);
  });

  it("of the very young is never longer than 6 h", () => {
    expect(silent(fedEvery(4, 6))).toBe(false);
    expect(silent(fedEvery(4, 6.1))).toBe(true);
  });

  it("of others is twice their usual gap, never longer than 12 h", () => {
    expect(silent(fedEvery(4, 8), old)).toBe(false);
    expect(silent(fedEvery(4, 8.1), old)).toBe(true);
    expect(silent(fedEvery(8, 12), old)).toBe(false);
    expect(silent(fedEvery(8, 12.1), old)).toBe(true);
  });

  it("is measured until the last line of another animal; without another there is none", () => {
    expect(silent(fedEvery(2, 10), { heardOfOthers: at - 6 * hour })).toBe(false);
    expect(silent(fedEvery(2, 10), { heardOfOthers: at - 5.9 * hour })).toBe(true);
    expect(silent(fedEvery(2, 10), { heardOfOthers: null })).toBe(false);
  });

  it("of one that nothing was ever written of begins with its admission", () => {
    const came = (hoursBack: number) => ({ animal: { admittedAt: at - hoursBack * hour } });
    expect(silent(came(6))).toBe(false);
    const [reason] = of(came(6.1));
    expect(reason!.at).toBe(at - 6.1 * hour);
    expect(reason!.sentence.parameters).toMatchObject({
      everWritten: false,
      mass: null,
      massAt: null,
    });
    expect(silent(came(12), old)).toBe(false);
    expect(silent(came(12.1), old)).toBe(true);
    expect(silent({ animal: { admittedAt: null } })).toBe(false);
  });

  it("ends with any line: a weighing, a sign or a feed of its group", () => {
    const fed = fedEvery(2, 10);
    expect(silent(fed)).toBe(true);
    expect(silent({ ...fed, weighings: [[at - hour, 2000]] })).toBe(false);
    const sign = { at: at - hour, kind: "stool", valueText: "formed" };
    expect(silent({ ...fed, observations: [sign] })).toBe(false);
    const group = {
      feeds: [...fed.feeds, { at: at - hour, animalId: null, groupId: "g" }],
      housing: [{ animalId: "P1", groupId: "g", from: start - 60 * day, place: "pen" }],
    };
    expect(silent(group)).toBe(false);
  });

  it("of one that is only weighed is twice the interval of its weighings, 12 h at least", () => {
    const daily = (lastH: number) => ({
      weighings: [4, 3, 2, 1, 0].map((i) => [at - (lastH + 24 * i) * hour, 2000] as const),
    });
    // The clock stands still at night: beyond the usual rest.
    expect(silent(daily(48))).toBe(false);
    expect(silent(daily(48.1))).toBe(true);
    const often = {
      weighings: [4, 3, 2, 1, 0].map((i) => [at - (12.1 + 3 * i) * hour, 2000] as const),
    };
    expect(silent(often)).toBe(true);
  });
});

describe("the hours after which an animal is silent", () => {
  const limit = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) => {
    const c = caseOf(parts, over);
    const rows: readonly (readonly { readonly at: number }[])[] = [
      c.series.feeds,
      c.series.weighings,
      c.series.signs,
    ];
    const entries = rows.flatMap((r) => r.map((x) => x.at)).sort((a, b) => a - b);
    return silenceLimitH(c, entries);
  };

  it("are the limits themselves where nothing is written yet", () => {
    expect(limit({})).toBe(6);
    expect(limit({}, old)).toBe(12);
  });

  it("come from the last feeds where there are five, else from the rhythm of the species", () => {
    const fed = (n: number) => ({ feeds: feedsEvery(1, at - n * hour, at) });
    expect(limit(fed(5))).toBe(2);
    // An otter of 18 days is fed every 3 h at the longest.
    const wide = { ...fed(4), limits: { silentYoungH: 20 } };
    expect(limit(wide)).toBe(6);
    // Nobody knows its rhythm: half of the most.
    expect(limit(wide, { profile: { ...caseOf().profile, feedingRhythm: [] } })).toBe(20);
  });

  it("look at feeds of the last three days alone", () => {
    const older = feedsEvery(1, at - 100 * hour, at - 80 * hour);
    const newer = feedsEvery(2.5, at - 12.5 * hour, at);
    expect(limit({ feeds: [...older, ...newer] })).toBe(5);
  });

  it("of others come from all lines of their last seven days, one visit being one entry", () => {
    const feeds = feedsEvery(4, at - 5 * day, at);
    expect(limit({ feeds }, old)).toBe(8);
    // A sign ten minutes after each feed is of the same visit.
    const observations = feeds.map((f) => ({
      at: f.at + hour / 6,
      kind: "stool",
      valueText: "formed",
    }));
    expect(limit({ feeds, observations }, old)).toBeCloseTo(2 * (4 - 1 / 6), 6);
    const before = feedsEvery(0.5, at - 10 * day, at - 8 * day);
    expect(limit({ feeds: [...before, ...feeds] }, old)).toBe(8);
    expect(limit({ feeds: [{ at: at - hour }] }, old)).toBe(12);
  });

  it("of the very young can be told by their lines where intervals are switched off", () => {
    expect(limit({ feeds: feedsEvery(2, at - 2 * day, at), limits: { silentFeeds: null } })).toBe(
      4,
    );
  });
});

describe("a night's rest", () => {
  /** Fed every 3 h from 06:00 to 21:00, nothing at night; `at` is 06:00. */
  const days = (n: number, from = 1) =>
    Array.from({ length: n }, (_, i) => at - (n + from - 1 - i) * day).flatMap((d) =>
      feedsEvery(3, d, d + 16 * hour),
    );
  const morning = (heard: number, more: CaseParts = {}, n = 6) =>
    silent(
      { feeds: days(n), ...more },
      { heardOfOthers: at + heard * hour, at: at + heard * hour },
    );

  it("that it has on most nights is no silence", () => {
    // Nine hours without a line, as every night.
    expect(morning(0)).toBe(false);
    // At the end of the very young's longest rest and beyond it.
    expect(morning(0.1)).toBe(true);
  });

  it("is told by three nights and more", () => {
    expect(morning(-1, {}, 4)).toBe(false);
    expect(morning(-1, {}, 2)).toBe(true);
  });

  it("is none where it was fed on most of those nights", () => {
    const nights = (n: number) =>
      Array.from({ length: n }, (_, i) => ({ at: at - (i + 1) * day - 5 * hour }));
    expect(morning(-1, { feeds: [...days(6), ...nights(5)].sort((a, b) => a.at - b.at) })).toBe(
      true,
    );
    expect(morning(-1, { feeds: [...days(6), ...nights(2)].sort((a, b) => a.at - b.at) })).toBe(
      false,
    );
  });

  it("may move by a quarter of it from night to night", () => {
    const late = [2, 3, 4].map((n) => ({ at: at - n * day - 8.2 * hour }));
    const feeds = [...days(6), ...late].sort((a, b) => a.at - b.at);
    expect(morning(-1, { feeds })).toBe(false);
  });

  it("of others is up to 12 h", () => {
    const long = Array.from({ length: 6 }, (_, i) => at - (6 - i) * day).flatMap((d) =>
      feedsEvery(2, d, d + 12 * hour + 1),
    );
    const at12 = (heard: number) =>
      silent({ feeds: long }, { ...old, heardOfOthers: at + heard * hour, at: at + heard * hour });
    expect(at12(0)).toBe(false);
    expect(at12(0.1)).toBe(true);
  });

  it("that is ordered by the clock is none from the first night on", () => {
    const feeds = feedsEvery(3, at - day, at - 8 * hour);
    const plan = (feedTimes: readonly string[]) => ({
      feeds,
      plans: [{ from: at - day, gPerFeed: 50, feedTimes }],
    });
    const waiting = (times: readonly string[]) => silent(plan(times), { heardOfOthers: at });
    expect(waiting(["06:00", "09:00", "12:00", "15:00", "18:00", "21:00"])).toBe(false);
    expect(waiting(["06:00", "09:00", "12:00", "15:00", "18:00", "21:00", "01:00"])).toBe(true);
    // A feed of 22:00 may have been the one of 21:00, one of 05:00 may still be written.
    expect(waiting(["06:00", "12:00", "18:00", "21:00", "22:00"])).toBe(false);
    expect(waiting(["06:00", "12:00", "18:00", "21:00", "22:30"])).toBe(true);
    expect(waiting(["06:00", "12:00", "18:00", "21:00", "05:00"])).toBe(false);
    expect(waiting(["06:00", "12:00", "18:00", "21:00", "04:30"])).toBe(true);
    // A number of feeds without times orders no rest.
    const counted = { feeds, plans: [{ from: at - day, gPerFeed: 50, feedsPerDay: 8 }] };
    expect(silent(counted, { heardOfOthers: at })).toBe(true);
    const both = {
      feeds,
      plans: [
        { from: at - day, dietId: "formula", gPerFeed: 50, feedTimes: ["06:00", "12:00", "21:00"] },
        { from: at - day, dietId: "clam", gPerFeed: 5, feedsPerDay: 2 },
      ],
      diets: [formula, clam],
    };
    expect(silent(both, { heardOfOthers: at })).toBe(true);
  });
});
