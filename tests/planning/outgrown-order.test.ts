import { describe, expect, it } from "vitest";
import { orderDoubts } from "../../src/planning/order-doubts.js";
import { planShift } from "../../src/planning/plan-shift.js";
import { graveOrders } from "../../src/report/day/grave-orders.js";
import type { StudySeries, StudySettings } from "../../src/series/animal-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { profileOf } from "../../src/species/profile-of.js";
import { day, feedsEvery, hour, settings, smallSeries, start } from "../rates/small-study.js";
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
