import { describe, expect, it } from "vitest";
import { orderShape, rationByOrder } from "../../src/planning/ration-by-order.js";
import type { RationDiet } from "../../src/planning/ration-diet.js";
import type { RationOptions } from "../../src/planning/ration-options.js";
import type { DietRow } from "../../src/records/study.js";
import type { AnimalSeries } from "../../src/series/animal-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { ordersOf } from "../../src/series/orders/orders-of.js";
import type { SpeciesProfile } from "../../src/species/species-profile.js";
import { feedingDaySpan } from "../../src/units/calendar.js";
import { clam, formula, hour, start } from "../rates/small-study.js";
import { type LooseOrder, planRow } from "../series/plan-row.js";

/** The order of 1 May 2025, for an invented pup of 2 kg and a made-up species. */
const clock = { zone: "UTC", feedingDayStartHour: 6 };
const soup = { ...formula, dietId: "soup", densityGPerMl: null, waterPct: 90 };
const pinch = { ...formula, dietId: "pinch", kind: "supplement" };
const diets = new Map([formula, clam, soup, pinch].map((d) => [d.dietId, d as unknown as DietRow]));
const ordered = (...orders: readonly Partial<LooseOrder>[]) => {
  const rows = orders.map((order) =>
    planRow({ from: start, dietId: "formula", gPerFeed: 50, ...order }),
  );
  return dayOrder(ordersOf(rows, diets, clock), "2025-05-01");
};
const series = { feeds: [] } as unknown as AnimalSeries;
const shape = (orders: readonly Partial<LooseOrder>[], options: Partial<RationOptions> = {}) =>
  orderShape(series, ordered(...orders), options as RationOptions)?.map((d) => d.dietId) ?? null;
const eight = { feedsPerDay: 8 };

describe("the shape of an order", () => {
  it("is kept where nothing else is asked for, with each diet once", () => {
    expect(shape([eight])).toEqual(["formula"]);
    const timed = { feedTimes: ["08:00", "20:00"] };
    expect(shape([timed, { ...timed, dietId: "clam" }, { feedTimes: ["12:00"] }])).toEqual([
      "clam",
      "formula",
    ]);
  });

  it("is not where feeds, times or the share of solids are asked for otherwise", () => {
    expect(shape([eight], { solidsEnergyPct: 0 })).toBeNull();
    expect(shape([eight], { feedsPerDay: 8 })).toBeNull();
    expect(shape([eight], { feedTimes: [] })).toBeNull();
  });

  it("is not where feeds cannot be counted, or none are ordered", () => {
    expect(shape([{ feedsPerDay: null }])).toBeNull();
    expect(shape([eight, { dietId: "clam", feedsPerDay: null }])).toBeNull();
    expect(shape([])).toBeNull();
  });

  it("leaves out what has no name or no composition, as long as no diets are entered", () => {
    expect(shape([eight, { ...eight, dietId: "unheard" }])).toEqual(["formula"]);
    expect(shape([{ ...eight, dietId: null }])).toEqual([]);
    expect(shape([{ ...eight, dietId: "pinch" }])).toEqual([]);
    const entered = [{ ...formula, composition: formula } as unknown as RationDiet];
    expect(shape([eight], { diets: entered })).toEqual(["formula"]);
    expect(shape([eight, { ...eight, dietId: "clam" }], { diets: entered })).toBeNull();
    expect(shape([{ ...eight, dietId: null }], { diets: entered })).toEqual([]);
    expect(orderShape(series, ordered(eight), { diets: entered } as never)![0]).toBe(entered[0]);
  });
});

describe("a ration by an order", () => {
  type By = Parameters<typeof rationByOrder>[2];
  const profile = {
    species: "grebbit",
    feedLimit: null,
    feedingRhythm: [{ fromD: 0, toD: 60, betweenHours: [8, 20] }],
  } as unknown as SpeciesProfile;
  const of = (orders: readonly Partial<LooseOrder>[], more: Partial<By> = {}) => {
    const order = ordered(...orders);
    return rationByOrder(orderShape(series, order, {} as RationOptions)!, order, {
      animal: "P1",
      scalePct: 100,
      massG: 2000,
      recentOfferedG: 400,
      limits: { risePct: null },
      profile,
      ageD: 90,
      span: feedingDaySpan("2025-05-01", "UTC", 6),
      zone: "UTC",
      energy: "stated, else general",
      ...more,
    });
  };
  const grams = (r: ReturnType<typeof of>) => r.feeds.map((f) => f.g);
  const codes = (r: ReturnType<typeof of>) => r.notices.map((n) => n.code);
  const timed = { feedTimes: ["08:00", "20:00"] };

  it("is every feed as ordered, with its time, diet and volume", () => {
    const r = of([timed, { ...timed, dietId: "clam", gPerFeed: 10.5 }]);
    expect(r.asOrdered).toBe(true);
    const clamFeed = { dietId: "clam", kind: "solid", g: 10.5, ml: null };
    const milkFeed = { dietId: "formula", kind: "formula", g: 50, ml: 50 / 1.03 };
    const [eightAt, twentyAt] = [start + 2 * hour, start + 14 * hour];
    expect(r.feeds).toEqual([
      { at: eightAt, time: "08:00", ...clamFeed },
      { at: eightAt, time: "08:00", ...milkFeed },
      { at: twentyAt, time: "20:00", ...clamFeed },
      { at: twentyAt, time: "20:00", ...milkFeed },
    ]);
    expect(r.diets).toMatchObject([
      { dietId: "clam", kcalPerG: 0.82, energyBasis: "stated" },
      { dietId: "formula", kcalPerG: 1.16 },
    ]);
    expect(of([timed], { energy: "general" }).diets[0]!.energyBasis).toBe("general");
    expect(codes(r)).toEqual(["ration-no-feed-limit"]);
  });

  it("without times is spread over the day, or the hours of the species at that age", () => {
    const times = (more: Partial<By> = {}) => of([{ feedsPerDay: 3 }], more).feeds;
    expect(times().map((f) => [(f.at - start) / hour, f.time])).toEqual([
      [0, null],
      [8, null],
      [16, null],
    ]);
    expect(times({ ageD: 20 }).map((f) => (f.at - start) / hour)).toEqual([2, 8, 14]);
    expect(times({ ageD: null })[1]!.at).toBe(start + 8 * hour);
  });

  it("scaled is the same share of each feed, in whole grams that add up", () => {
    const orders = [timed, { ...timed, dietId: "clam", gPerFeed: 25 }];
    const r = of(orders, { scalePct: 110 });
    // 165 g: 27.5 and 55 g twice, the gram left over to the earliest of the largest remainders.
    expect(grams(r)).toEqual([28, 55, 27, 55]);
    expect(r.asOrdered).toBe(false);
    expect(grams(of([timed], { scalePct: 50 }))).toEqual([25, 25]);
    expect(of([timed], { scalePct: 50 }).feeds[0]!.ml).toBeCloseTo(25 / 1.03, 9);
  });

  it("beyond a limit is cut to it, but never below the order; an order beyond it is told", () => {
    const cut = of([timed], { scalePct: 200, recentOfferedG: 100, limits: { risePct: 20 } });
    expect(grams(cut)).toEqual([60, 60]);
    expect(cut.limits).toMatchObject([{ limit: "rise from day to day", binds: true }]);
    expect(codes(cut)).toContain("ration-rise-limited");
    const over = of([timed], { recentOfferedG: 50, limits: { risePct: 20 } });
    expect([grams(over), over.asOrdered]).toEqual([[50, 50], true]);
    expect(codes(over)).toContain("ration-plan-over-limit");
  });

  it("knows its water where that of every diet is known", () => {
    // 90 % of 100 g for 2 kg; 45 mL/kg are those 90 mL.
    const limits = { risePct: null, waterMlPerKg: 40 };
    expect(codes(of([{ ...timed, dietId: "soup" }], { limits }))).toContain(
      "ration-plan-over-limit",
    );
    expect(
      codes(of([{ ...timed, dietId: "soup" }], { limits: { ...limits, waterMlPerKg: 45 } })),
    ).not.toContain("ration-plan-over-limit");
    // 0.8 of 100 g and 0.79 of 50 g make 119.5 mL; scaled up it is cut to that of the limit.
    const both = [timed, { ...timed, dietId: "clam", gPerFeed: 25 }];
    const water = (waterMlPerKg: number) =>
      of(both, { scalePct: 200, limits: { risePct: null, waterMlPerKg } }).feeds.reduce(
        (sum, f) => sum + f.g,
        0,
      );
    expect(water(119.5)).toBe(300);
    expect(water(89.625)).toBe(225);
    const unknown = of([{ ...timed, dietId: "unheard" }], {
      limits: { ...limits, waterMlPerKg: 1 },
    });
    expect(codes(unknown)).not.toContain("ration-plan-over-limit");
  });

  it("with a part that no table knows says so, and gives it as ordered", () => {
    const r = of([timed, { ...timed, dietId: "unheard" }]);
    expect(r.notices.at(-1)).toMatchObject({
      code: "ration-part-unknown",
      level: "caution",
      parameters: { diet: "unheard" },
    });
    expect(r.feeds.find((f) => f.dietId === "unheard")).toMatchObject({
      kind: "formula",
      g: 50,
      ml: null,
    });
    const unnamed = of([{ ...timed, dietId: null }]);
    expect(unnamed.notices.at(-1)!.parameters["diet"]).toBe("a diet not named");
    expect(unnamed.feeds[0]!.dietId).toBe("");
    expect(codes(of([timed]))).not.toContain("ration-part-unknown");
  });

  it("has a volume only of a density", () => {
    expect(of([{ ...timed, dietId: "soup" }]).feeds[0]!.ml).toBeNull();
  });
});
