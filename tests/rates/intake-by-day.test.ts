import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import { intakeByFeed } from "../../src/rates/intake-by-feed.js";
import {
  clam,
  dailyMasses,
  day,
  feedsEvery,
  formula,
  hour,
  settings,
  smallSeries,
  start,
} from "./small-study.js";

const grow = dailyMasses(6, () => 2000);
const only = (parts: Parameters<typeof smallSeries>[0]) =>
  intakeByDay(smallSeries({ weighings: grow, ...parts }), { settings });

describe("intake by feeding day", () => {
  it("adds up by hand: eight feeds of 50 g less 10 g, at 2 kg", () => {
    const feeds = feedsEvery(3, start, start + day, { offeredG: 50, refusedG: 10 });
    const [d] = only({ feeds }).value;
    expect(d).toMatchObject({ feedingDay: "2025-05-01", feeds: 8, offeredG: 400, hours: 24 });
    expect(d!.eatenG.value).toBe(320);
    expect(d!.refusedG.value).toBe(80);
    expect(d!.kcal.value).toBeCloseTo(320 * 1.16, 10);
    expect(d!.dryMatterG.value).toBeCloseTo(64, 10);
    expect(d!.proteinG.value).toBeCloseTo(25.6, 10);
    expect(d!.fatG.value).toBeCloseTo(25.6, 10);
    expect(d!.waterMl.value).toBeCloseTo(256, 10);
    expect(d!.volumeMl.value).toBeCloseTo(320 / 1.03, 10);
    expect(d!.massG).toBeCloseTo(2000, 6);
    expect(d!.shareOfMassPct!.value).toBeCloseTo(16, 6);
    expect(d!.waterMlPerKg!.value).toBeCloseTo(128, 6);
    expect(d!.kcalPerMetabolicKg!.value).toBeCloseTo((320 * 1.16) / 2 ** 0.75, 6);
    expect(d!.solidsEnergyPct!.value).toBe(0);
    expect(d!.byRoute["bottle"]!.value).toBe(320);
    expect(d!.energyBases).toEqual(["stated"]);
    expect(d!.notices).toEqual([]);
  });

  it("gives the energy share of solids, and bounds where a refusal is not known", () => {
    const at = (h: number) => start + h * hour;
    const known = only({
      feeds: [
        { at: at(1), offeredG: 100 },
        { at: at(4), offeredG: 100, dietId: "clam" },
      ],
    }).value[0]!;
    expect(known.solidsEnergyPct!.value).toBeCloseTo((100 * 82) / (82 + 116), 10);
    expect(known.solidsMassPct!.value).toBe(50);
    const open = only({
      feeds: [
        { at: at(1), offeredG: 100 },
        { at: at(4), offeredG: 100, dietId: "clam", refusedG: null },
      ],
    }).value[0]!;
    expect(open.eatenG).toEqual({ low: 100, high: 200, value: null });
    expect(open.solidsEnergyPct).toEqual({
      low: 0,
      high: known.solidsEnergyPct!.high,
      value: null,
    });
    expect(open.notices.map((n) => n.code)).toEqual(["intake-refusal-unknown"]);
  });

  it("takes a blank refusal as none where the study says so", () => {
    const series = smallSeries({
      weighings: grow,
      settings: { blankRefusalIsNone: true },
      feeds: [{ at: start, offeredG: 60, refusedG: null }],
    });
    expect(intakeByDay(series, { settings }).value[0]!.eatenG.value).toBe(60);
  });

  it("uses the composition of the batch: fat of fish swings with the season", () => {
    const feeds = [{ at: start + hour, offeredG: 100, batchId: "b1" }];
    const batches = [
      { batchId: "b1", dietId: "formula", madeAt: start, fatPct: 12, energyKcalPerG: 1.52 },
    ];
    const d = only({ feeds, batches }).value[0]!;
    expect(d.kcal.value).toBeCloseTo(152, 10);
    expect(d.fatG.value).toBeCloseTo(12, 10);
  });

  it("leaves no limit above where a diet is missing, and names it", () => {
    const d = only({
      feeds: [
        { at: start, offeredG: 100 },
        { at: start + hour, offeredG: 50, dietId: "lost" },
      ],
    }).value[0]!;
    expect(d.eatenG.value).toBe(150);
    expect(d.kcal.low).toBeCloseTo(116, 10);
    expect(d.kcal).toMatchObject({ high: null, value: null });
    expect(d.notices[0]).toMatchObject({
      code: "intake-diet-missing",
      parameters: { diets: ["lost"] },
    });
  });

  it.each([
    [{ energyKcalPerG: 0 }, "energy-not-positive"],
    [{ energyKcalPerG: null, fatPct: -8 }, "composition-part-impossible"],
    [{ energyKcalPerG: null, proteinPct: 60 }, "composition-sum-too-high"],
  ])("computes no energy from a diet that cannot be: %j", (wrong, code) => {
    const d = only({
      diets: [{ ...formula, ...wrong }],
      feeds: [{ at: start, offeredG: 100 }],
    }).value[0]!;
    expect(d.kcal.value).toBeNull();
    expect(d.notices.map((n) => n.code)).toContain(code);
    expect(noticeText(d.notices[0]!)).toMatch(/\S/);
  });

  it("names feeds before birth and refusals above the offer", () => {
    const r = only({
      feeds: [
        { at: start - 20 * day, offeredG: 100 },
        { at: start, offeredG: 50, refusedG: 80 },
        { at: start + hour, offeredG: 50, refusedG: -5 },
        { at: start + 2 * hour, offeredG: 50 },
      ],
    });
    expect(r.basis).toMatchObject({ used: 3, leftOut: [{ count: 1 }] });
    expect(r.notices.map((n) => n.code)).toEqual([
      "feed-before-birth",
      "feed-refusal-impossible",
      "feed-refusal-impossible",
    ]);
    expect(r.value[0]!.eatenG).toEqual({ low: 50, high: 150, value: null });
  });

  it("shows a day without any record as not known, never as zero", () => {
    const feeds = [{ at: start }, { at: start + 2 * day }];
    const days = only({ feeds }).value;
    expect(days.map((d) => d.feeds)).toEqual([1, 0, 1]);
    expect(days[1]!.eatenG).toEqual({ low: 0, high: null, value: null });
    expect(days[1]!.notices.map((n) => n.code)).toEqual(["intake-day-without-feeds"]);
    expect(days.map((d) => d.complete)).toEqual([false, true, false]);
  });

  it("does not attribute feeds given to a group", () => {
    const series = smallSeries({
      weighings: grow,
      housing: [
        { animalId: "P1", groupId: "pool", from: start - day },
        { groupId: "pool", from: start - day },
      ],
      feeds: [{ at: start }, { at: start + hour, animalId: null, groupId: "pool" }],
    });
    expect(series.sharedFeeds).toHaveLength(1);
    const d = intakeByDay(series, { settings }).value[0]!;
    expect(d.eatenG).toEqual({ low: 50, high: null, value: null });
    expect(d.notices.map((n) => n.code)).toContain("intake-shared-feeds");
  });

  it("gives no share of body mass without a mass", () => {
    const d = intakeByDay(smallSeries({ feeds: [{ at: start }] }), { settings }).value[0]!;
    expect([d.massG, d.shareOfMassPct, d.kcalPerMetabolicKg]).toEqual([null, null, null]);
  });

  it("keeps the length of the night on which the clock changes", () => {
    const zone = "America/St_Johns";
    const change = Date.UTC(2025, 2, 9, 5, 30);
    const series = smallSeries({
      animal: { birthDateEarliest: "2025-03-01", birthDateLatest: "2025-03-01" },
      settings: { zone },
      feeds: feedsEvery(3, change - day, change + day),
    });
    const days = intakeByDay(series, { settings: { zone, feedingDayStartHour: 6 } }).value;
    expect(days.map((d) => d.hours)).toContain(23);
    expect(days.reduce((n, d) => n + d.feeds, 0)).toBe(16);
  });

  it("does not depend on the order of rows, and scales with the amounts", () => {
    const feedArbitrary = fc.record({
      at: fc.integer({ min: 0, max: 4 * 24 }).map((h) => start + h * hour),
      offeredG: fc.integer({ min: 1, max: 200 }),
      refusedG: fc.option(fc.integer({ min: 0, max: 1 }), { nil: null }),
      dietId: fc.constantFrom("formula", "clam", "lost"),
    });
    fc.assert(
      fc.property(fc.array(feedArbitrary, { minLength: 1, maxLength: 12 }), (feeds) => {
        const value = only({ feeds }).value;
        expect(
          only({ feeds: [...feeds].reverse() }).value.map((d) => d.kcal.low.toFixed(6)),
        ).toEqual(value.map((d) => d.kcal.low.toFixed(6)));
        const twice = feeds.map((f) => ({
          ...f,
          offeredG: 2 * f.offeredG,
          refusedG: f.refusedG === null ? null : 2 * f.refusedG,
        }));
        only({ feeds: twice }).value.forEach((d, i) => {
          expect(d.eatenG.low).toBe(2 * value[i]!.eatenG.low);
          expect(d.kcal.low).toBeCloseTo(2 * value[i]!.kcal.low, 6);
          expect(d.solidsMassPct?.value ?? null).toBe(value[i]!.solidsMassPct?.value ?? null);
        });
        for (const d of value) {
          expect(d.eatenG.low).toBeLessThanOrEqual(d.eatenG.high ?? Infinity);
          expect(d.kcal.low).toBeLessThanOrEqual(d.kcal.high ?? Infinity);
          if (d.solidsEnergyPct !== null) {
            expect(d.solidsEnergyPct.low).toBeGreaterThanOrEqual(0);
            expect(d.solidsEnergyPct.high).toBeLessThanOrEqual(100);
          }
        }
      }),
      { seed: 20260103, numRuns: 60 },
    );
  });
});

describe("a diet of solids", () => {
  it("counts as solids only", () => {
    const d = only({ feeds: [{ at: start, dietId: "clam" }], diets: [clam] }).value[0]!;
    expect([d.solidsEnergyPct!.value, d.formulaG.value, d.solidsG.value]).toEqual([100, 0, 50]);
    expect(d.volumeMl.high).toBeNull();
  });
});

describe("intake feed by feed", () => {
  it("gives each feed's parts, and adds up to the day", () => {
    const feeds = [
      { at: start, offeredG: 60, refusedG: 10 },
      { at: start + 3 * hour, offeredG: 40, refusedG: null, route: "hand", dietId: "clam" },
      { at: start + 6 * hour, offeredG: 40, dietId: "lost" },
    ];
    const series = smallSeries({ weighings: grow, feeds });
    const rows = intakeByFeed(series).value;
    expect(rows[0]).toMatchObject({
      route: "bottle",
      eatenG: { value: 50 },
      refusedG: { value: 10 },
    });
    expect(rows[0]!.kcal!.value).toBeCloseTo(58, 10);
    expect(rows[1]!.eatenG).toEqual({ low: 0, high: 40, value: null });
    expect(rows[1]!.refusedG).toEqual({ low: 0, high: 40, value: null });
    expect(rows[2]!.kcal).toBeNull();
    const [d] = intakeByDay(series, { settings }).value;
    expect(rows.reduce((s, r) => s + r.eatenG.low, 0)).toBe(d!.eatenG.low);
    expect(rows.reduce((s, r) => s + (r.kcal?.low ?? 0), 0)).toBeCloseTo(d!.kcal.low, 10);
  });
});

describe("the days that are told", () => {
  const days = (parts: Parameters<typeof smallSeries>[0], more: object = {}) =>
    intakeByDay(smallSeries({ weighings: grow, ...parts }), { settings, ...more });
  const feeds = [{ at: start }, { at: start + 2 * day }];
  const told = (more: object = {}) =>
    days({ feeds }, more).value.map((d) => [d.feedingDay, d.feeds, d.complete]);

  it("are those from the first fed day to the last, or those asked for", () => {
    expect(told()).toEqual([
      ["2025-05-01", 1, false],
      ["2025-05-02", 0, true],
      ["2025-05-03", 1, false],
    ]);
    // Before the first and after the last day on record a part may be missing too.
    expect(told({ from: "2025-04-30", to: "2025-05-04" })).toEqual([
      ["2025-04-30", 0, false],
      ["2025-05-01", 1, false],
      ["2025-05-02", 0, true],
      ["2025-05-03", 1, false],
      ["2025-05-04", 0, false],
    ]);
    expect(told({ from: "2025-05-03" })).toEqual([["2025-05-03", 1, false]]);
    expect(told({ to: "2025-05-01" })).toEqual([["2025-05-01", 1, false]]);
  });

  it("follow those that are known already, which stay as they are", () => {
    const known = days({ feeds })
      .value.slice(0, 2)
      .map((d) => ({ ...d, offeredG: 7 }));
    const all = days({ feeds }, { known }).value;
    expect(all.map((d) => d.offeredG)).toEqual([7, 7, 50]);
    expect(all[2]).toEqual(days({ feeds }).value[2]);
  });

  it("are none without a feed, and that is said", () => {
    const r = days({});
    expect(r.value).toEqual([]);
    expect(r.notices).toMatchObject([
      {
        code: "intake-no-feeds",
        level: "caution",
        parameters: { animal: "P1" },
        place: { table: "feeds" },
      },
    ]);
    expect(days({}, { from: "2025-05-01", to: "2025-05-01" }).value).toMatchObject([
      { feeds: 0, complete: false },
    ]);
    expect(days({ feeds }).notices).toEqual([]);
  });

  it("come with how they were worked out", () => {
    expect(days({ feeds }, { energy: "general" })).toMatchObject({
      kind: "intake-by-day",
      method: {
        options: {
          energy: "general",
          zone: "UTC",
          feedingDayStartHour: 6,
          from: "2025-05-01",
          to: "2025-05-03",
        },
        citations: [],
      },
      basis: { used: 2, of: "feeds" },
    });
    expect(days({ feeds }, { energy: "general" }).value[0]!.energyBases).toEqual(["general"]);
    expect(days({ feeds }).value[0]).toMatchObject({
      from: start,
      to: start + day,
      hours: 24,
    });
  });
});

describe("what is not known of a day", () => {
  it("is counted by what was eaten of it, by route and by kind", () => {
    const feeds = [
      { at: start, offeredG: 60, refusedG: 10, route: "tube" },
      { at: start + hour, offeredG: 40, refusedG: null, route: null },
      { at: start + 2 * hour, offeredG: 30, route: "tube", dietId: "clam" },
    ];
    const d = only({ feeds }).value[0]!;
    expect(d.byRoute).toEqual({
      tube: { low: 80, high: 80, value: 80 },
      "not given": { low: 0, high: 40, value: null },
    });
    expect(d.refusedG).toEqual({ low: 10, high: 50, value: null });
    expect(d.formulaG).toEqual({ low: 50, high: 90, value: null });
    expect(d.solidsG.value).toBe(30);
    expect(d.notices).toMatchObject([
      {
        code: "intake-refusal-unknown",
        level: "caution",
        parameters: { day: "2025-05-01", n: 1 },
        place: { table: "feeds", animal: "P1" },
      },
    ]);
    expect("doubted" in d).toBe(false);
  });

  it("is limited by neither side where a diet has no kind, but for what was refused whole", () => {
    const lost = (more: object) => ({ at: start + hour, offeredG: 50, dietId: "lost", ...more });
    const d = only({ feeds: [{ at: start, offeredG: 100 }, lost({})] }).value[0]!;
    expect([d.formulaG, d.solidsG]).toEqual([
      { low: 100, high: null, value: null },
      { low: 0, high: null, value: null },
    ]);
    expect(d.notices).toMatchObject([
      {
        code: "intake-diet-missing",
        level: "caution",
        parameters: { day: "2025-05-01", n: 1, diets: ["lost"] },
      },
    ]);
    const refused = only({ feeds: [{ at: start, offeredG: 100 }, lost({ refusedG: 50 })] });
    expect(refused.value[0]!.kcal.value).toBeCloseTo(116, 9);
    expect(refused.value[0]!.notices).toEqual([]);
    const two = only({ feeds: [lost({}), lost({}), lost({ dietId: null })] }).value[0]!;
    expect(two.notices[0]!.parameters).toMatchObject({ n: 3, diets: ["lost", "blank"] });
  });

  it("is told of each diet once, with the diets it concerns", () => {
    const wrong = { ...formula, energyKcalPerG: 0 };
    const diets = [wrong, { ...wrong, dietId: "other" }];
    const told = (refusedG: number) =>
      only({
        diets,
        feeds: [
          { at: start },
          { at: start + hour },
          { at: start + 2 * hour, dietId: "other", refusedG },
        ],
      }).value[0]!.notices.map((n) => [n.code, n.parameters["diets"]]);
    expect(told(0)).toEqual([["energy-not-positive", ["formula", "other"]]]);
    // Of a feed that was refused whole nothing is missing.
    expect(told(50)).toEqual([["energy-not-positive", ["formula"]]]);
  });

  it("of a feed shared with others, or of a day without a feed, has no upper limit", () => {
    const housing = [
      { animalId: "P1", groupId: "pool", from: start - day },
      { groupId: "pool", from: start - day },
    ];
    const shared = { animalId: null, groupId: "pool" };
    const feeds = [
      { at: start },
      { at: start + 2 * day },
      { at: start + day, ...shared },
      { at: start + day + hour, ...shared },
    ];
    const d = only({ housing, feeds }).value[1]!;
    expect(d.notices).toMatchObject([{ code: "intake-shared-feeds", parameters: { n: 2 } }]);
    expect(d.eatenG).toEqual({ low: 0, high: null, value: null });
  });
});

describe("what came up", () => {
  it("is taken from the day on which it did, to its very end", () => {
    const feeds = feedsEvery(6, start, start + 3 * day, { offeredG: 50 });
    const kept = (at: number) =>
      only({
        feeds,
        observations: [{ at, kind: "vomit", value: 20, unit: "g", valueText: "20" }],
      }).value.map((d) => [d.keptG.low, d.keptG.high]);
    const [all, less] = [
      [200, 200],
      [180, 180],
    ];
    expect(kept(start + day)).toEqual([all, less, all]);
    expect(kept(start + 2 * day - 1)).toEqual([all, less, all]);
    expect(kept(start + 2 * day)).toEqual([all, all, less]);
  });
});
