import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { seededRandom } from "../../src/core/random.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import type { FeedRow } from "../../src/records/study.js";
import type { SeriesFeed } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { settings, start, studyOf, weighing } from "./grow-study.js";
import { planRow } from "./plan-row.js";

const DAY = 86_400_000;
const HOUR = 3_600_000;
const diet = {
  waterPct: null,
  proteinPct: null,
  fatPct: null,
  carbohydratePct: null,
  fibrePct: null,
  ashPct: null,
  energyKcalPerG: 1.1,
  dietId: "milk",
  name: null,
  kind: "formula" as const,
  densityGPerMl: 1.03,
  useByH: 24,
  origin: { file: "diets.csv", line: 2 },
};

/** Eight feeds a day of one animal, 2 % apart from one another. */
function fed(animalId: string, g: number, seed: number, days = 6): FeedRow[] {
  const r = seededRandom(seed);
  return Array.from({ length: 8 * days }, (_, i) => ({
    animalId,
    groupId: null,
    at: start + HOUR + i * 3 * HOUR + Math.round(20 * r.uniform()) * 60_000,
    dietId: "milk",
    batchId: null,
    offeredG: Math.round(g * (1 + 0.02 * r.normal())),
    refusedG: i % 5 === 0 ? Math.round(0.1 * g) : 0,
    route: "bottle" as const,
    notes: null,
    origin: { file: "feeds.csv", line: 2 + i },
  }));
}

const own = fed("P1", 75, 61);
const sibling = fed("P2", 140, 62);
const masses = (scale = 1) =>
  ["P1", "P2"].flatMap((id, k) =>
    Array.from({ length: 6 }, (_, d) =>
      weighing(id, start + d * DAY, scale * (1500 + 1300 * k) * 1.01 ** d),
    ),
  );
const seriesOf = (feeds: readonly FeedRow[], more = {}) =>
  buildSeries(studyOf(masses(), { feeds, diets: [diet], ...more }));
const doubted = (feeds: readonly FeedRow[], more = {}): SeriesFeed[] =>
  seriesOf(feeds, more).animals.flatMap((a) => a.feeds.filter((f) => f.slip !== undefined));
const N = 29;
const one = (change: Partial<FeedRow>, n = N) => {
  const feeds = [...own.map((f, i) => (i === n ? { ...f, ...change } : f)), ...sibling];
  return doubted(feeds).map((f) => [
    f.row.origin.line,
    f.slip!.kind,
    f.slip!.suggestedG === null ? null : Math.round(f.slip!.suggestedG),
  ]);
};
const line = own[N]!.origin.line;

describe("slips of feeds", () => {
  it("are not seen where there are none", () => {
    expect(doubted([...own, ...sibling])).toEqual([]);
  });
  it("7500, 750 and 0.075 g among feeds of 75 g are doubted, named, and intake is a range", () => {
    for (const [offeredG, kind] of [
      [7500, "digit added"],
      [750, "digit added"],
      [0.075, "kilograms for grams"],
    ] as const) {
      expect(one({ offeredG, refusedG: 0 })).toEqual([[line, kind, 75]]);
      const feeds = own.map((f, i) => (i === N ? { ...f, offeredG, refusedG: 0 } : f));
      const animal = seriesOf(feeds).animals.find((a) => a.animal.animalId === "P1")!;
      const day = intakeByDay(animal, { settings }).value.find(
        (d) => d.feedingDay === animal.feeds[N]!.feedingDay,
      )!;
      const eaten = (list: readonly FeedRow[]) =>
        list
          .filter((_, i) => animal.feeds[i]!.feedingDay === day.feedingDay && i !== N)
          .reduce((sum, f) => sum + f.offeredG - f.refusedG!, 0);
      // Neither 750 nor 7500 g go into 1.6 kg: between none of it and the usual feed.
      expect(day.eatenG).toEqual({
        low: eaten(own),
        high: eaten(own) + 75,
        value: null,
      });
    }
  });
  it("digits, units, the day's total and the bottle have their names", () => {
    expect(one({ offeredG: 7, refusedG: 0 })[0]!.slice(0, 2)).toEqual([line, "digit left out"]);
    expect(one({ offeredG: 755, refusedG: 0 })[0]!.slice(0, 2)).toEqual([line, "digit added"]);
    expect(one({ offeredG: 2.65, refusedG: 0 })).toEqual([[line, "ounces for grams", 75]]);
    expect(one({ offeredG: 0.165, refusedG: 0 })).toEqual([[line, "pounds for grams", 75]]);
    expect(one({ offeredG: 600, refusedG: 0 })).toEqual([[line, "day's total", 75]]);
    expect(one({ offeredG: 215, refusedG: 0 })).toEqual([[line, "bottle not taken off", null]]);
  });
  it("more refused than offered: exchanged where the refusal is the usual feed", () => {
    // 5 offered and 75 refused, read the other way round: 70 eaten; read as written: at most 5.
    expect(one({ offeredG: 5, refusedG: 75 })).toEqual([
      [line, "offered and refused exchanged", 75],
    ]);
    const range = (offeredG: number, refusedG: number) => {
      const feeds = own.map((f, i) => (i === N ? { ...f, offeredG, refusedG } : f));
      const { eatenG, eatenLowG, eatenHighG } = doubted([...feeds, ...sibling])[0]!;
      return [eatenG, eatenLowG, eatenHighG];
    };
    expect(range(5, 75)).toEqual([null, 0, 70]);
    expect(range(0, 75)).toEqual([null, 0, 75]);
    // An offer as usual stands, the refusal does not: of the 75 g between nothing and all was eaten.
    expect(one({ offeredG: 75, refusedG: 105 })).toEqual([
      [line, "refusal beyond the offer", null],
    ]);
    expect(range(75, 105)).toEqual([null, 0, 75]);
  });
  it("a feed of the sibling minutes after the own one, where the sibling has none", () => {
    const near = (feed: FeedRow) => Math.abs(feed.at - own[N]!.at) < 30 * 60_000;
    const beside = fed("P2", 88, 63).map((f) =>
      near(f) ? { ...f, animalId: "P1", at: own[N]!.at + 10 * 60_000, offeredG: 88 } : f,
    );
    expect(doubted([...own, ...beside]).map((f) => [f.offeredG, f.slip!.kind])).toEqual([
      [88, "wrong animal"],
    ]);
    // Both were fed in that round: no doubt.
    expect(doubted([...own, ...fed("P2", 88, 63)])).toEqual([]);
  });
  it("a feed entered under the sibling, who then has none", () => {
    const k = sibling.findIndex((f) => Math.abs(f.at - own[N]!.at) < 30 * 60_000);
    const moved = sibling.map((f, i) => (i === k ? { ...f, animalId: "P1" } : f));
    const found = doubted([...own, ...moved]);
    expect(found.map((f) => [f.slip!.kind, f.slip!.otherAnimalId])).toEqual([
      ["wrong animal", "P2"],
    ]);
    expect(found[0]!.eatenLowG).toBe(0);
    // Exchanged: each has the other's.
    const both = doubted([
      ...own.map((f, i) => (i === N ? { ...f, offeredG: 140 } : f)),
      ...sibling.map((f, i) => (i === k ? { ...f, offeredG: 75 } : f)),
    ]);
    expect(both.map((f) => f.slip!.kind)).toEqual(["wrong animal", "wrong animal"]);
  });
  it("one feed entered twice, minutes apart", () => {
    const again = { ...own[N]!, at: own[N]!.at + 6 * 60_000, origin: { file: "x", line: 900 } };
    expect(doubted([...own, again]).map((f) => [f.row.origin.line, f.slip!.kind])).toEqual([
      [900, "entered twice"],
    ]);
    // A bottle given in two parts by habit is none.
    const parts = own.flatMap((f) => [f, { ...f, at: f.at + 6 * 60_000 }]);
    expect(doubted(parts)).toEqual([]);
  });
  it("a whole day in kilograms, against body mass alone", () => {
    const from = 24;
    const found = doubted(
      own.map((f, i) => (i >= from && i < from + 8 ? { ...f, offeredG: f.offeredG / 1000 } : f)),
    );
    expect(found).toHaveLength(8);
  });
  it("the first feeds of a newcomer: against its order, or its mass where there is none", () => {
    const first = own.slice(0, 2).map((f, i) => (i === 1 ? { ...f, offeredG: 750 } : f));
    expect(doubted(first).map((f) => f.offeredG)).toEqual([750]);
    const plan = planRow({ from: start, dietId: "milk", gPerFeed: 75, feedsPerDay: 8 });
    const small = own.slice(0, 2).map((f, i) => (i === 1 ? { ...f, offeredG: 7.5 } : f));
    expect(doubted(small)).toEqual([]);
    expect(doubted(small, { plans: [plan] }).map((f) => f.slip!.kind)).toEqual(["digit left out"]);
  });
});

describe("what is no slip of a feed", () => {
  it("a new order, a larger night feed, a meal refused, a pinch, a supplement, nothing offered", () => {
    const more = own.map((f, i) => (i >= 30 ? { ...f, offeredG: f.offeredG + 75 } : f));
    expect(doubted(more)).toEqual([]);
    const night = own.map((f, i) => (i % 8 === 5 ? { ...f, offeredG: 160 } : f));
    expect(doubted(night)).toEqual([]);
    expect(one({ refusedG: 70 })).toEqual([]);
    expect(one({ offeredG: 60, refusedG: 0 })).toEqual([]);
    expect(one({ offeredG: 0, refusedG: 0 })).toEqual([]);
    const pinch = { ...diet, dietId: "salt", kind: "supplement" as const };
    const pinches = own.map((f) => ({ ...f, dietId: "salt", offeredG: 0.4, refusedG: 0 }));
    expect(doubted([...own, ...pinches], { diets: [diet, pinch] })).toEqual([]);
  });
  it("healthy feeds by the thousand: at most 1 in 2,000 (seeded)", () => {
    const feeds = Array.from({ length: 40 }, (_, k) => fed(k % 2 ? "P1" : "P2", 75, 7000 + k, 12));
    let all = 0;
    let wrong = 0;
    for (const list of feeds) {
      all += list.length;
      wrong += doubted(list).length;
    }
    expect(wrong).toBeLessThanOrEqual(all / 2000);
  });
});

describe("laws of doubted feeds", () => {
  const rows = [
    ...own.map((f, i) =>
      i === 9 ? { ...f, offeredG: 750 } : i === 20 ? { ...f, offeredG: 7 } : f,
    ),
    ...sibling.map((f, i) => (i === 30 ? { ...f, offeredG: 0.14 } : f)),
  ];
  const places = (list: readonly SeriesFeed[]) =>
    list.map((f) => `${f.row.animalId} ${f.row.origin.line}`).sort();
  const asWritten = places(doubted(rows));
  it("three are doubted", () => {
    expect(asWritten).toEqual(["P1 11", "P1 22", "P2 32"]);
  });
  it("the order of rows changes nothing", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(rows, { minLength: rows.length }), (mixed) => {
        expect(places(doubted(mixed))).toEqual(asWritten);
      }),
      { seed: 71, numRuns: 20 },
    );
  });
  it("all masses times a constant: the same feeds are doubted", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 40, noNaN: true }), (scale) => {
        const feeds = rows.map((f) => ({
          ...f,
          offeredG: f.offeredG * scale,
          refusedG: f.refusedG! * scale,
        }));
        const study = studyOf(masses(scale), { feeds, diets: [diet] });
        const found = buildSeries(study).animals.flatMap((a) =>
          a.feeds.filter((f) => f.slip !== undefined),
        );
        expect(places(found)).toEqual(asWritten);
      }),
      { seed: 72, numRuns: 30 },
    );
  });
  it("are said with what is usual, what may be meant and between what was eaten", () => {
    const [first] = doubted(rows);
    const text = noticeText(first!.slip!.why);
    expect(text).toMatch(/A feed of 750 g at .*usually about 75 g; .*a digit added\? Perhaps 75 g/);
    expect(text).toMatch(/Until decided, between 0 and 75 g were eaten/);
  });
});
