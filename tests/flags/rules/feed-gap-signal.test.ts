import { describe, expect, it } from "vitest";
import { prepareAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { feedGapSignal } from "../../../src/flags/rules/feed-gap-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import type { WhatIsWritten } from "../../../src/flags/rules/what-is-written.js";
import {
  day,
  hour,
  type SmallStudy,
  settings,
  smallSeries,
  start,
} from "../../rates/small-study.js";

/**
 * The tenth day of a pup fed every three hours, of a made-up species that is fed every two to
 * three. Its usual pause is 3 h: looked at beyond twice that, 6 h; a danger beyond a quarter
 * more than that pause and two feeds more, 3.75 + 6 = 9.75 h. Hours are those of the day.
 */
const begin = start + 9 * day;
const at = (h: number) => ({ at: begin + h * hour });
const until = (h: number, everyH = 3, fromH = -9 * 24) =>
  Array.from({ length: Math.floor((h - fromH) / everyH) + 1 }, (_, i) => at(fromH + i * everyH));
const refused = (h: number) => ({ ...at(h), offeredG: 50, refusedG: 50 });
const rhythm = (range: readonly [number, number], more: object = {}) => ({
  fromD: 0,
  toD: 60,
  everyH: { range },
  betweenHours: null,
  ...more,
});
interface Given {
  readonly feeds: SmallStudy["feeds"] & object;
  readonly plans?: SmallStudy["plans"] & object;
  readonly bands?: readonly object[];
  readonly ageD?: number | null;
  readonly limits?: Partial<RuleLimits>;
  readonly quietToo?: boolean;
}
/** What is found where the last line of all is so many hours after the day's begin. */
const of = (lastH: number, given: Given) => {
  const { feeds, plans = [], bands = [rhythm([2, 3])], ageD = 20, limits = {}, quietToo } = given;
  const prepared = prepareAnimal(smallSeries({ feeds, plans }), settings, []);
  const profile = { ...prepared.profile, feedingRhythm: bands } as typeof prepared.profile;
  const span = { day: "2025-05-10", from: begin, to: begin + day, hours: 24 };
  const written = { until: () => begin + lastH * hour } as unknown as WhatIsWritten;
  const all = { ...defaultRuleLimits, ...limits };
  return feedGapSignal({ ...prepared, profile }, span, ageD, written, all, quietToo);
};
const raised = (...a: Parameters<typeof of>) =>
  of(...a).flatMap((s) => ("raised" in s && s.raised ? [s.kind] : []))[0] ?? null;
/** Thresholds of "no feed" and "missed feed", h. */
const limitsOf = (...a: Parameters<typeof of>) =>
  (of(...a) as Signal[]).map((s) => Math.round(100 * (s.threshold ?? 0)) / 100);
const fed = { feeds: until(3) };

describe("where only what is raised is wanted", () => {
  const few = [0.5, 2, 3, null].map((noFeedTimes) => ({ noFeedTimes }));
  const cases: readonly Given[] = [
    fed,
    { feeds: [...until(0), refused(3)] },
    { feeds: [...until(0), refused(3), refused(6)] },
    { feeds: [...until(0), refused(1), refused(2), refused(3)] },
    { feeds: [...until(0), ...until(12, 3, 9)] },
    { feeds: until(3, 1) },
  ];

  it("the same is raised, whatever the hours, the refusals and the limits", () => {
    for (const given of cases)
      for (const limits of few)
        for (const h of [6, 6.1, 9, 9.1, 12.75, 12.8, 16])
          expect([h, limits, raised(h, { ...given, limits, quietToo: false })]).toEqual([
            h,
            limits,
            raised(h, { ...given, limits }),
          ]);
  });

  it("nothing is worked out where nothing can be raised", () => {
    expect(of(6, { ...fed, quietToo: false })).toEqual([]);
    expect(of(6, fed)).toHaveLength(2);
  });
});

describe("a gap that still runs", () => {
  it("is looked at beyond twice what is usual, a danger where three feeds are missing", () => {
    expect([raised(9, fed), raised(9.1, fed)]).toEqual([null, "missed feed"]);
    expect([raised(12.75, fed), raised(12.8, fed)]).toEqual(["missed feed", "no feed"]);
    expect(limitsOf(9, fed)).toEqual([9.75, 6]);
  });

  it("is told with its hours, its begin and its limit, raised or not", () => {
    const [danger, look] = of(10, fed) as Signal[];
    expect(danger).toMatchObject({
      class: "danger",
      kind: "no feed",
      direction: "high",
      raised: false,
      value: { value: 7, unit: "h" },
      evidence: { gapH: 7, fromAt: begin + 3 * hour, usualH: 3, refused: 0, running: true },
      sentence: {
        code: "flag-feed-gap",
        level: "info",
        parameters: {
          animal: "P1",
          hours: 7,
          from: begin + 3 * hour,
          limit: 9.75,
          usual: 3,
          refused: 0,
          danger: true,
        },
      },
    });
    expect(danger!.strength).toBeCloseTo(7 / 9.75, 9);
    expect(look).toMatchObject({
      class: "practice",
      kind: "missed feed",
      raised: true,
      sentence: { level: "problem", parameters: { limit: 6, danger: false } },
    });
    expect(look!.strength).toBeCloseTo(7 / 6, 9);
    // A danger is not told a second time as a missed feed; that then stays below its limit.
    const [no, missed] = of(20, fed) as Signal[];
    expect([no!.raised, missed!.raised, missed!.strength]).toEqual([true, false, 0.99]);
    expect(no!.strength).toBeCloseTo(17 / 9.75, 9);
  });

  it("has no danger where that is switched off, and nothing where the rule is", () => {
    const off = { ...fed, limits: { noFeedTimes: null } };
    expect((of(20, off) as Signal[]).map((s) => s.kind)).toEqual(["missed feed"]);
    expect(raised(20, off)).toBe("missed feed");
    expect(of(20, { ...fed, limits: { feedGapTimes: null } })).toEqual([]);
    expect(limitsOf(9, { ...fed, limits: { noFeedTimes: 2, feedGapTimes: 1.5 } })).toEqual([
      6.75, 4.5,
    ]);
  });
});

describe("a gap that has ended", () => {
  it("counts on the day on which it ends, the one furthest out", () => {
    const ended = (h: number) => ({ feeds: [...until(3), at(3 + h), at(6 + h)] });
    expect([raised(12, ended(6)), raised(12.5, ended(6.5))]).toEqual([null, "missed feed"]);
    const two = of(22, { feeds: [...until(3), at(10), at(18), at(21)] }) as Signal[];
    expect(two[1]).toMatchObject({
      evidence: { gapH: 8, fromAt: begin + 10 * hour, running: false },
    });
    const first = of(22, { feeds: [...until(3), at(11), at(18), at(21)] }) as Signal[];
    expect(first[1]).toMatchObject({ evidence: { gapH: 8, fromAt: begin + 3 * hour } });
    // One that ended the day before is no gap of this day.
    expect(raised(1, { feeds: [...until(-12), at(-4), at(-1)] })).toBeNull();
    expect(raised(1, { feeds: [...until(-12), at(0)] })).toBe("no feed");
    // Nothing from the day's end on is read.
    expect(raised(10, { feeds: [...until(3), at(24)] })).toBe("missed feed");
    expect(raised(10, { feeds: [...until(3), at(24.5)] })).toBe("missed feed");
  });
});

describe("feeds of which nothing was eaten", () => {
  it("are no feeds: two are looked at, three are a danger", () => {
    const with_ = (...hours: readonly number[]) => ({
      feeds: [...until(3), ...hours.map(refused)],
    });
    expect(raised(5, with_(4))).toBeNull();
    expect(raised(5, with_(4, 5))).toBe("missed feed");
    expect(raised(6, with_(4, 5, 6))).toBe("no feed");
    expect((of(6, with_(4, 5, 6)) as Signal[])[0]).toMatchObject({
      strength: 1,
      evidence: { gapH: 3, refused: 3 },
    });
    expect(raised(7, { ...with_(4, 5, 6), limits: { noFeedTimes: 4 } })).toBe("missed feed");
    // Refused after the last line that counts.
    expect(raised(4.5, with_(4, 5))).toBeNull();
  });

  it("within three quarters of an hour of a meal, or of each other, are one with it", () => {
    const with_ = (...hours: readonly number[]) =>
      raised(7, { feeds: [...until(3), ...hours.map(refused)] });
    expect([with_(3.7, 5), with_(3.75, 5)]).toEqual([null, "missed feed"]);
    expect([with_(5, 5.7), with_(5, 5.75)]).toEqual([null, "missed feed"]);
  });

  it("between meals that were eaten end no gap", () => {
    const feeds = [...until(3), refused(5), refused(7), at(8)];
    expect(raised(9, { feeds })).toBe("missed feed");
    const unsure = { ...at(5), offeredG: 50, refusedG: null };
    expect(raised(9, { feeds: [...until(3), unsure, refused(7), at(8)] })).toBeNull();
  });
});

describe("what is usual", () => {
  it("is the longer of the species' pause at that age and the animal's own", () => {
    expect(limitsOf(4, { ...fed, bands: [rhythm([2, 2.5])] })).toEqual([9.75, 6]);
    // Of the species 5 h: twice that is 10 h, but one feed missing beyond its own pause is enough.
    expect(limitsOf(4, { ...fed, bands: [rhythm([2, 5])] })).toEqual([9.75, 6.75]);
    // A night's pause: 24 h less 14.
    const night = [rhythm([2, 3], { betweenHours: [6, 20] })];
    expect((of(4, { ...fed, bands: night }) as Signal[])[0]!.evidence).toMatchObject({
      usualH: 10,
    });
  });

  it("of unknown age is the widest of the species, and of an age it does not tell the animal's own", () => {
    const bands = [rhythm([2, 3]), rhythm([3, 5], { fromD: 60, toD: 90 })];
    const usual = (ageD: number | null) =>
      ((of(4, { ...fed, bands, ageD }) as Signal[])[0]!.evidence as { usualH: number }).usualH;
    expect([usual(20), usual(70), usual(null), usual(99)]).toEqual([3, 5, 5, 3]);
  });

  it("is not known without either, or with fewer than two meals: that is said", () => {
    const unknown = { ...fed, bands: [] };
    expect(of(4, { feeds: until(3, 3, 0), bands: [] })).toEqual([
      { kind: "no feed", why: expect.objectContaining({ code: "flag-no-rhythm", level: "info" }) },
      { kind: "missed feed", why: expect.objectContaining({ parameters: { animal: "P1" } }) },
    ]);
    expect(limitsOf(4, unknown)).toEqual([9.75, 6]);
    expect(of(20, { feeds: [at(3)] })[0]).not.toHaveProperty("raised");
    expect(of(20, { feeds: [at(0), at(3)] })[0]).toHaveProperty("raised");
    expect(of(20, { feeds: [] })[0]).not.toHaveProperty("raised");
  });

  it("of its own longest pauses is their lower quartile, once three days tell it", () => {
    // Two days of feeds: the species' 4 h stand for its own longest pause; fed every 3 h.
    const young = { feeds: until(3, 3, -24), bands: [rhythm([2, 4])] };
    expect(limitsOf(4, young)).toEqual([11, 8]);
    // Three feeds tell no interval.
    expect(limitsOf(7, { feeds: until(6, 3, 0), bands: [rhythm([2, 4])] })).toEqual([13, 8]);
    // A feed not written on one day makes one long pause of seven, which counts for nothing.
    const gone = until(3).filter((f) => f.at !== begin - 3 * day + 3 * hour);
    expect(limitsOf(4, { feeds: gone })).toEqual([9.75, 6]);
    // On six of seven it is how this animal is fed.
    const nights = until(3).filter((f) => {
      const h = (f.at - start) / hour;
      return h % 24 !== 18 || h > 8 * 24;
    });
    expect(limitsOf(4, { feeds: nights })).toEqual([13.5, 10.5]);
  });

  it("of its own is told by each of the seven days before, the newest as the oldest", () => {
    // Longest pause of each day, the newest first; the feed at 12:00 was late by so much.
    const longest = [4, 6, 3, 5, 3.5, 5.5, 4.5];
    const feeds = longest.flatMap((h, k) =>
      [0, 3, 6, 9, 9 + h, 15, 18, 21]
        .filter((clock, i, all) => clock !== all[i + 1])
        .map((clock) => at(clock - 24 * (k + 1))),
    );
    const given = { feeds: [...feeds, at(0), at(3)] };
    // The lower quartile of them is 3.5 h, the middle 4.5 h: 4.375 + 6 and 4.375 + 3 h.
    expect(limitsOf(4, given)).toEqual([10.38, 7.38]);
    expect((of(4, given) as Signal[])[0]!.evidence).toMatchObject({ usualH: 4.5 });
    // Three days are enough, two are not.
    expect(limitsOf(4, { feeds: until(3, 3, -72), bands: [rhythm([2, 5])] })).toEqual([9.75, 6.75]);
    expect(limitsOf(4, { feeds: until(3, 3, -72), bands: [] })).toEqual([9.75, 6]);
    expect(of(4, { feeds: until(3, 3, -48), bands: [] })[0]).not.toHaveProperty("raised");
  });

  it("of its interval is the middle one of a week, from four on, however many there are", () => {
    expect(limitsOf(17, { feeds: until(12, 3, 0), bands: [rhythm([2, 4])] })).toEqual([11, 8]);
    expect(limitsOf(14, { feeds: until(9, 3, 0), bands: [rhythm([2, 4])] })).toEqual([13, 8]);
    expect(limitsOf(4, { feeds: until(3, 1) })).toEqual([3.25, 2.25]);
  });

  it("of its interval leaves out pieces offered within a quarter of an hour", () => {
    const pieces = until(3).flatMap((f) => [f, { at: f.at + 0.25 * hour }]);
    expect(limitsOf(4, { feeds: pieces })).toEqual([8.94, 6]);
  });
});

describe("nothing by mouth", () => {
  const nil = (fromH: number, toH: number | null) => ({
    from: begin + fromH * hour,
    to: toH === null ? null : begin + toH * hour,
    dietId: "nil by mouth",
  });
  const gap = (lastH: number, ...plans: readonly ReturnType<typeof nil>[]) => {
    const [signal] = of(lastH, { ...fed, plans }) as Signal[];
    const { gapH, fromAt } = signal!.evidence as { gapH: number; fromAt: number };
    return [gapH, (fromAt - begin) / hour];
  };
  it("misses no feed: the longest part of a gap without it counts", () => {
    expect(gap(13.5, nil(4, 10))).toEqual([3.5, 10]);
    expect(gap(13, nil(8, 10))).toEqual([5, 3]);
    expect(gap(20, nil(6.5, null))).toEqual([3.5, 3]);
    expect(gap(20, nil(4, 6), nil(10, 11))).toEqual([9, 11]);
    // What ended before the gap, or begins at its end, takes nothing away.
    expect(gap(13, nil(-5, 3))).toEqual([10, 3]);
    expect(gap(13, nil(13, 15))).toEqual([10, 3]);
    expect(gap(13, nil(2, 5))).toEqual([8, 5]);
  });

  it("does not count what was refused in it", () => {
    const feeds = [...until(3), refused(5), refused(6), refused(11)];
    expect((of(12, { feeds, plans: [nil(4, 8)] }) as Signal[])[0]!.evidence).toMatchObject({
      gapH: 4,
      refused: 1,
    });
  });
});

describe("a pause that the plan orders", () => {
  const order = (more: object) => ({ from: begin, dietId: "formula", gPerFeed: 50, ...more });
  const rest = order({ feedTimes: ["06:00", "09:00", "12:00", "15:00", "18:00", "21:00"] });

  it("by its times is no missed feed, a quarter more of it allowed", () => {
    // From 21:00 to 06:00 are 9 h: 11.25 h, and two feeds more.
    const night = { feeds: until(15), plans: [rest] };
    expect(limitsOf(23.9, night)).toEqual([17.25, 11.25]);
    expect(raised(23.9, night)).toBeNull();
    expect(raised(23.9, { feeds: until(15) })).toBe("missed feed");
    // A gap that lies in the rest, or one that the rest lies in.
    expect(limitsOf(24, { feeds: until(20), plans: [rest] })).toEqual([17.25, 11.25]);
    expect(limitsOf(23.9, { ...fed, plans: [rest] })).toEqual([17.25, 11.25]);
    const dawn = { feeds: [...until(-9), at(2)], plans: [{ ...rest, from: begin - 2 * day }] };
    expect(limitsOf(2, dawn)).toEqual([17.25, 11.25]);
    // It excuses no gap by day.
    expect(limitsOf(10, { ...fed, plans: [rest] })).toEqual([9.75, 6]);
    // A gap that is within what is usual needs no plan.
    expect(limitsOf(18, night)).toEqual([9.75, 6]);
  });

  it("by a number of feeds is what they leave of a day, where as many were given", () => {
    // Six feeds at the species' longest interval, 3 h, leave 9 h.
    const six = (more: object = {}) => ({ ...fed, plans: [order({ feedsPerDay: 6, ...more })] });
    expect(limitsOf(12, six())).toEqual([17.25, 11.25]);
    expect(limitsOf(12, six({ from: begin + 11 * hour }))).toEqual([17.25, 11.25]);
    expect(limitsOf(12, six({ from: begin - day, to: begin + 5 * hour }))).toEqual([17.25, 11.25]);
    expect(limitsOf(12, six({ from: begin + 13 * hour }))).toEqual([9.75, 6]);
    expect(limitsOf(12, six({ feedsPerDay: null }))).toEqual([9.75, 6]);
    // Eight ordered leave no more than the usual pause; nine were not given.
    expect(limitsOf(12, six({ feedsPerDay: 8 }))).toEqual([9.75, 6]);
    const few = until(3, 3, -12);
    expect(limitsOf(12, { feeds: few, plans: six().plans })).toEqual([17.25, 11.25]);
    expect(limitsOf(12, { feeds: until(3, 3, -9), plans: six().plans })[1]).toBe(6);
    // Of an age without a rhythm nobody knows what they leave.
    expect(limitsOf(12, { ...six(), bands: [] })).toEqual([9.75, 6]);
  });
});
