import { describe, expect, it } from "vitest";
import { orderDoubts } from "../../src/planning/order-doubts.js";
import { dayOf, outgrownOrder } from "../../src/planning/outgrown-order.js";
import { planShift } from "../../src/planning/plan-shift.js";
import { graveOrders } from "../../src/report/day/grave-orders.js";
import type { StudySeries, StudySettings } from "../../src/series/animal-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { profileOf } from "../../src/species/profile-of.js";
import {
  clam,
  day,
  feedsEvery,
  formula,
  hour,
  type SmallStudy,
  settings,
  smallSeries,
  start,
} from "../rates/small-study.js";
import type { LooseOrder } from "../series/plan-row.js";

const at = start + 14 * day + 12 * hour;
const order = (fromD: number, gPerFeed: number, more: object = {}): LooseOrder => ({
  animalId: "P1",
  from: start + fromD * day,
  dietId: "formula",
  gPerFeed,
  feedsPerDay: 8,
  ...more,
});
/** Grows by 1.2 % of itself a day from 2 kg; fed 60 g eight times. */
const pup = (plans: readonly LooseOrder[], perDay = 0.012) =>
  smallSeries({
    weighings: Array.from(
      { length: 15 },
      (_, d) => [start + d * day + hour, 2000 * Math.exp(perDay * d)] as const,
    ),
    feeds: feedsEvery(3, start, at, { offeredG: 60, refusedG: 0 }),
    plans,
  });
const doubt = (plans: readonly LooseOrder[], own: Partial<StudySettings> = {}, perDay = 0.012) => {
  const series = pup(plans, perDay);
  const all = orderDoubts(series, dayOrder(series.orders, "2025-05-15"), {
    at,
    settings: { ...settings, ...own },
  });
  return all.find((d) => d.why.code === "order-outgrown") ?? null;
};

describe("an order that was not raised while the mass grew", () => {
  it("is named, with what a kilogram is ordered and eaten beside the range of the source", () => {
    const found = doubt([order(0, 60)])!;
    const p = found.why.parameters as Record<string, number>;
    // By hand: e^(0.012 x 14.5) - 1 = 19 %, less what smoothing leaves at both ends.
    expect(Math.abs(p["pct"]! - 100 * Math.expm1(0.012 * 14.5))).toBeLessThan(1.5);
    // 8 feeds of 60 g at 1.16 kcal/g.
    expect(p["perKgThen"]!).toBeCloseTo((480 * 1.16) / (p["before"]! / 1000), 6);
    expect(p["perKg"]!).toBeCloseTo((480 * 1.16) / (p["mass"]! / 1000), 6);
    expect(Math.abs(p["eatenPerKg"]! / p["perKg"]! - 1)).toBeLessThan(0.02);
    // Kleiber's 70 W^0.75 (Kleiber 1961, The Fire of Life), times the range of the profile.
    const { range } = profileOf("sea otter").energyDemand[0]!.timesResting;
    const resting = 70 * (p["mass"]! / 1000) ** -0.25;
    expect([p["low"]!, p["high"]!]).toEqual([
      expect.closeTo(range[0] * resting, 6),
      expect.closeTo(range[1] * resting, 6),
    ]);
    // Asked about; the order stays as ordered and no line of it is doubted.
    expect([found.level, found.lines]).toEqual(["ask", []]);
  });

  it("is not renewed into silence by the same amount, and not by less", () => {
    const since = (plans: readonly LooseOrder[]) =>
      (doubt(plans)?.why.parameters as Record<string, number> | undefined)?.["pct"];
    const once = since([order(0, 60)])!;
    expect(since([order(0, 60), order(6, 60), order(12, 60)])).toBeCloseTo(once, 6);
    expect(since([order(0, 70), order(6, 60)])).toBeCloseTo(once, 6);
  });

  it("is quiet where it was raised in time, where little grew, without an amount, and where switched off", () => {
    expect(doubt([order(0, 60), order(8, 70)])).toBeNull();
    expect(doubt([order(0, 60)], {}, 0.005)).toBeNull();
    expect(doubt([order(0, 60, { gPerFeed: null })])).toBeNull();
    expect(doubt([order(0, 60)], { orderBounds: { massGrowthPct: null } })).toBeNull();
    expect(doubt([order(0, 60)], { orderBounds: { massGrowthPct: 25 } })).toBeNull();
  });

  it("stands on the day's board in words", () => {
    const study: StudySeries = {
      settings,
      animals: [pup([order(0, 60)])],
      scaleChecks: [],
      batches: [],
      events: [],
      notices: [],
    };
    const [shift] = planShift(study, { until: at }).animals;
    const words = graveOrders(shift!, "UTC").join(" ");
    expect(words).toMatch(
      /order was not raised since .*mass grew 1\d % .*kcal\/kg a day.*enough: ask/,
    );
  });
});

/** Weighed at its coming and now, so that the two masses are as written; ordered 400 g a day. */
const grown = (massG: number, plans: readonly LooseOrder[], more: Partial<SmallStudy> = {}) =>
  smallSeries({
    weighings: [
      [start, 2000],
      [at, massG],
    ],
    plans,
    ...more,
  });
const said = (
  series: ReturnType<typeof grown>,
  options: Partial<Parameters<typeof outgrownOrder>[1]> = {},
) =>
  outgrownOrder(series, {
    at,
    until: start + 15 * day,
    bound: 15,
    settings,
    ...options,
  })?.parameters ?? null;

describe("how much the mass grew under an order", () => {
  it("is asked about on the bound and beyond, and not below", () => {
    // 100 (1.15 - 1) is a little less than 15 in the computer.
    expect(said(grown(2300, [order(0, 50)]))).toMatchObject({
      since: start,
      pct: 15,
      before: 2000,
      mass: 2300,
      unit: "kcal",
    });
    expect(said(grown(2299, [order(0, 50)]))).toBeNull();
  });

  it("counts from the first weighing, and is not known without one", () => {
    expect(said(grown(2400, [order(-20, 50)]))!["since"]).toBe(start);
    expect(said(grown(2400, [order(0, 50)], { weighings: [] }))).toBeNull();
    // The last weighing too long ago; none near the day the order began.
    const only = (d: number, massG = 2400) => ({ weighings: [[start + d * day, massG]] as const });
    expect(said(grown(0, [order(0, 50)], only(0)))).toBeNull();
    expect(
      said(
        grown(0, [order(3, 50)], {
          weighings: [
            [start - 9 * day, 2000],
            [at, 2400],
          ],
        }),
      ),
    ).toBeNull();
  });

  it("counts over every order of the same diets that was not smaller, but for a rounding", () => {
    const since = (...plans: readonly LooseOrder[]) => {
      const from = said(grown(2400, plans))?.["since"];
      return from === undefined ? null : ((from as number) - start) / day;
    };
    const [then, later] = [order(2, 50), order(10, 50)];
    expect(since(then, later)).toBe(2);
    // 198 of 200 g are one amount, 197 are not: a raise, after which little grew.
    expect(since(order(2, 49.5), later)).toBe(2);
    expect(since(order(2, 49.4), later)).toBeNull();
    expect(since(order(2, 200), later)).toBe(2);
    // Another diet, nothing by mouth or an amount that nobody knows in between ends it.
    expect(since(order(2, 50, { dietId: "clam" }), later)).toBeNull();
    expect(since(then, order(6, 50, { dietId: "nil by mouth" }), later)).toBeNull();
    expect(since(order(2, 50, { feedsPerDay: null }), later)).toBeNull();
    // Several diets are compared in kilocalories, in whatever order they stand.
    const both = (d: number, ids: readonly string[]) =>
      ids.map((dietId) => order(d, 25, { dietId }));
    expect(since(...both(2, ["formula", "clam"]), ...both(10, ["clam", "formula"]))).toBe(2);
    expect(since(...both(2, ["formula", "clam"]), order(10, 42.67))).toBeNull();
  });

  it("is of the order that holds on the day printed, the one that begins in it included", () => {
    const until = start + 15 * day;
    const raised = (fromD: number) =>
      said(grown(2400, [order(0, 50), order(fromD, 60)]), { until });
    expect(raised(14.99)).toBeNull();
    expect(raised(15)).not.toBeNull();
    // Asked after the day's end, it is still the order of that day.
    expect(
      said(grown(2400, [order(0, 50), order(14, 60)]), { until: start + 14 * day }),
    ).not.toBeNull();
    const ended = (toD: number) => said(grown(2400, [order(0, 50, { to: start + toD * day })]));
    expect([ended(14) === null, ended(14.9) === null, ended(16) === null]).toEqual([
      true,
      true,
      false,
    ]);
    expect(said(grown(2400, []))).toBeNull();
    expect(said(grown(2400, [order(0, 50, { dietId: "nil by mouth" })]))).toBeNull();
  });
});

describe("what a kilogram is ordered, beside what it needs", () => {
  it("is in grams, and beside no range, where the energy is not known", () => {
    const told = said(grown(2400, [order(0, 50, { dietId: "unheard" })]))!;
    expect(told).toMatchObject({ unit: "g", low: null, high: null, source: null });
    expect(told["perKg"]).toBeCloseTo(400 / 2.4, 9);
    expect(told["perKgThen"]).toBeCloseTo(400 / 2, 9);
  });

  it("is beside the source's range of its species at its age, as the study has it", () => {
    const plans = [order(0, 50)];
    const { range, source } = profileOf("sea otter").energyDemand[0]!.timesResting;
    const resting = 70 * 2.4 ** -0.25;
    expect(said(grown(2400, plans))).toMatchObject({
      low: expect.closeTo(range[0] * resting, 9),
      high: expect.closeTo(range[1] * resting, 9),
      source,
    });
    const none = { unit: "kcal", low: null, high: null, source: null };
    const unborn = { birthDateEarliest: null, birthDateLatest: null, birthDateBasis: "unknown" };
    expect(said(grown(2400, plans, { animal: unborn }))).toMatchObject(none);
    expect(said(grown(2400, plans, { species: "grebbit" }))).toMatchObject(none);
    // From 120 days on the profile has another range.
    const old = { birthDateEarliest: "2025-01-01", birthDateLatest: "2025-01-01" };
    expect(said(grown(2400, plans, { animal: old }))!["low"]).toBeCloseTo(3.93 * resting, 9);
  });
});

describe("what a kilogram ate", () => {
  const ate = (feeds: SmallStudy["feeds"], dietId = "formula") =>
    said(grown(2400, [order(0, 50, { dietId })], { feeds: feeds! }))!["eatenPerKg"];
  const fed = (d: number, offeredG: number, more: object = {}) => ({
    at: start + d * day,
    offeredG,
    ...more,
  });

  it("is the mean of the last seven whole days with every amount known", () => {
    // The day under way is no whole day, and the eighth day back is left out.
    const week = [7, 8, 9, 10, 11, 12, 13].map((d) => fed(d, 30 * d));
    const mean = (1.16 * 300) / 2.4;
    expect(ate([fed(6, 9000), ...week, fed(14, 9000)])).toBeCloseTo(mean, 9);
    expect(ate([fed(7, 100), fed(13, 200)])).toBeCloseTo((1.16 * 150) / 2.4, 9);
    // An amount that is not known leaves its day out.
    expect(ate([fed(7, 100), fed(13, 200, { refusedG: null })])).toBeCloseTo((1.16 * 100) / 2.4, 9);
    expect(ate([])).toBeNull();
    expect(ate([fed(6, 100)])).toBeNull();
  });

  it("is in the unit of what is ordered", () => {
    expect(ate([fed(12, 120, { dietId: "unheard" })], "unheard")).toBeCloseTo(50, 9);
    expect(ate([fed(12, 120, { dietId: "unheard" })])).toBeNull();
  });
});

describe("what lines come to in a day", () => {
  const of = (unit: "g" | "kcal", ...plans: readonly LooseOrder[]) => {
    const series = grown(2400, plans, { diets: [formula, { ...clam, energyKcalPerG: 0.5 }] });
    return dayOf(series, series.orders.lines, unit);
  };
  it("is their sum, in grams or kilocalories, and not known where a part is not", () => {
    const two = [order(0, 50), order(0, 10, { dietId: "clam" })];
    expect(of("g", ...two)).toBe(480);
    expect(of("kcal", ...two)).toBeCloseTo(400 * 1.16 + 80 * 0.5, 9);
    expect(of("g", order(0, 50, { dietId: "unheard" }))).toBe(400);
    expect(of("kcal", order(0, 50, { dietId: "unheard" }))).toBeNull();
    expect(of("kcal", ...two, order(0, 10, { dietId: "unheard" }))).toBeNull();
    for (const unit of ["g", "kcal"] as const) {
      expect(of(unit, order(0, 50, { feedsPerDay: null }))).toBeNull();
      expect(of(unit)).toBe(0);
    }
  });
});
