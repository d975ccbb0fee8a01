import { describe, expect, it } from "vitest";
import type { PlanRow } from "../../../src/records/study.js";
import { dayOrder } from "../../../src/series/orders/day-order.js";
import { ordersOf } from "../../../src/series/orders/orders-of.js";
import { type LooseOrder, planRow } from "../plan-row.js";

/** The feeding day of 1 May 2025 runs from 06:00 to 06:00 UTC. */
const hour = 3_600_000;
const day = 24 * hour;
const start = Date.UTC(2025, 4, 1, 6);
const rowOf = (order: Partial<LooseOrder>, more: Partial<PlanRow> = {}) => ({
  ...planRow({ from: start, dietId: "milk", gPerFeed: 50, ...order }),
  ...more,
});
const of = (rows: readonly PlanRow[], on = "2025-05-01", now: number | null = null) =>
  dayOrder(ordersOf(rows, new Map(), { zone: "UTC", feedingDayStartHour: 6 }), on, now);
const eight = rowOf({ feedsPerDay: 8 });
const timed = (more: Partial<LooseOrder> = {}) =>
  rowOf({ feedTimes: ["08:00", "20:00", "02:00"], ...more });
const told = (o: ReturnType<typeof dayOrder>) => ({
  feeds: o.feeds.length,
  uncounted: o.uncounted.map((u) => u.why),
  notToday: o.notToday.length,
  grams: o.grams,
});

describe("the order of a feeding day", () => {
  it("counts feeds without a time where their line holds the whole day", () => {
    const o = of([eight]);
    expect(told(o)).toEqual({ feeds: 8, uncounted: [], notToday: 0, grams: 400 });
    expect(o.feeds[0]).toMatchObject({ at: null, time: null, line: { dietId: "milk" } });
    expect([o.feedingDay, o.from, o.to]).toEqual(["2025-05-01", start, start + day]);
    expect(o.atStart.state).toBe("ordered");
    expect(o.changes).toEqual([]);
  });

  it("is empty before the first order, and where nothing is ordered", () => {
    const before = of([eight], "2025-04-30");
    expect(told(before)).toEqual({ feeds: 0, uncounted: [], notToday: 0, grams: 0 });
    expect(before.atStart.state).toBe("no order");
    expect(before.changes).toEqual([]);
  });

  it("does not count feeds without a time where their line holds a part of the day", () => {
    const late = of([rowOf({ from: start + 1, feedsPerDay: 8 })]);
    expect(told(late)).toEqual({
      feeds: 0,
      uncounted: ["part of the day"],
      notToday: 0,
      grams: null,
    });
    expect(late.uncounted[0]).toMatchObject({ from: start + 1, to: start + day });
    expect(late.atStart.state).toBe("no order");
    expect(late.changes.map((s) => s.from)).toEqual([start + 1]);
    const ends = of([rowOf({ feedsPerDay: 8, to: start + day - 1 })]);
    expect(told(ends).uncounted).toEqual(["part of the day"]);
    const whole = of([rowOf({ feedsPerDay: 8, to: start + day })]);
    expect(told(whole)).toMatchObject({ feeds: 8, uncounted: [] });
    // A second step of the same line joins its stretches: it held the whole day.
    const beside = of([
      rowOf({ feedsPerDay: 8 }),
      rowOf({ dietId: "clam", feedsPerDay: 2, to: start + 12 * hour }),
    ]);
    expect(told(beside)).toMatchObject({ feeds: 8, uncounted: ["part of the day"] });
  });

  it("puts feeds with a time in their order, where the line is in force at that time", () => {
    const o = of([timed()]);
    expect(o.feeds.map((f) => [f.time, (f.at! - start) / hour])).toEqual([
      ["08:00", 2],
      ["20:00", 14],
      ["02:00", 20],
    ]);
    expect(o.grams).toBe(150);
    const times = (more: Partial<LooseOrder>) => of([timed(more)]).feeds.map((f) => f.time);
    expect(times({ from: start + 2 * hour })).toEqual(["08:00", "20:00", "02:00"]);
    expect(times({ from: start + 2 * hour + 1 })).toEqual(["20:00", "02:00"]);
    expect(times({ to: start + 14 * hour })).toEqual(["08:00"]);
    expect(times({ to: start + 14 * hour + 1 })).toEqual(["08:00", "20:00"]);
    // Times of two diets run into each other, those without a time come after.
    const two = of([
      timed(),
      rowOf({ dietId: "clam", feedTimes: ["12:00"] }),
      rowOf({ dietId: "mash", feedsPerDay: 1 }),
    ]);
    expect(two.feeds.map((f) => f.time)).toEqual(["08:00", "12:00", "20:00", "02:00", null]);
  });

  it("cannot count what has no whole number of feeds, but adds up its day", () => {
    const daily = { words: "300", value: { amount: 300, unit: "g" } } as PlanRow["perDay"];
    const amount = rowOf({ gPerFeed: null }, { perDay: daily });
    expect(told(of([amount]))).toEqual({
      feeds: 0,
      uncounted: ["number not ordered"],
      notToday: 0,
      grams: 300,
    });
    expect(told(of([rowOf({})]))).toMatchObject({ uncounted: ["number not ordered"], grams: null });
    expect(told(of([rowOf({ feedsPerDay: 7.5 })]))).toMatchObject({
      uncounted: ["number not ordered"],
      grams: 375,
    });
    expect(told(of([rowOf({ feedsPerDay: 7.5 }), amount].slice(0, 1), "2025-05-01")).feeds).toBe(0);
    // Beside another diet, both are added.
    const both = of([eight, { ...amount, dietId: "clam" }]);
    expect(told(both)).toMatchObject({ feeds: 8, grams: 700 });
  });

  it("has no sum where an amount is not known or a cell was not read", () => {
    const ml = { words: "50 mL", value: { amount: 50, unit: "mL" } } as PlanRow["mlPerFeed"];
    expect(told(of([rowOf({ gPerFeed: null, feedsPerDay: 8 }, { mlPerFeed: ml })]))).toMatchObject({
      feeds: 8,
      grams: null,
    });
    const unread = rowOf({ feedsPerDay: 8 }, { perDay: { words: "about half", value: null } });
    expect(told(of([unread]))).toMatchObject({ feeds: 8, grams: null });
  });

  it("keeps apart what is not due today, and does not count what nobody could read", () => {
    const every2 = rowOf(
      { feedsPerDay: 8 },
      { days: { words: "every 2 days", value: { kind: "every", days: 2 } } as PlanRow["days"] },
    );
    expect(told(of([every2]))).toMatchObject({ feeds: 8, notToday: 0 });
    expect(told(of([every2], "2025-05-02"))).toEqual({
      feeds: 0,
      uncounted: [],
      notToday: 1,
      grams: 0,
    });
    const moon = rowOf({ feedsPerDay: 8 }, { days: { words: "at new moon", value: null } });
    expect(told(of([moon]))).toEqual({
      feeds: 0,
      uncounted: ["days not read"],
      notToday: 0,
      grams: null,
    });
  });
});

describe("the rest of a day under way", () => {
  const change = [
    eight,
    rowOf({ from: start + 6 * hour, gPerFeed: 60, feedTimes: ["14:00", "22:00"] }),
  ];
  it("leaves out what was replaced by now, and takes what began by now as in force", () => {
    const morning = of(change, "2025-05-01", start + 3 * hour);
    expect(morning.atStart.since).toBe(start);
    expect(morning.changes.map((s) => s.from)).toEqual([start + 6 * hour]);
    expect(told(morning)).toMatchObject({ feeds: 2, uncounted: ["part of the day"] });
    const noon = of(change, "2025-05-01", start + 6 * hour);
    expect(noon.atStart.since).toBe(start + 6 * hour);
    expect(noon.changes).toEqual([]);
    expect(told(noon)).toEqual({ feeds: 2, uncounted: [], notToday: 0, grams: 120 });
  });

  it("that is over, or has not begun, is the whole of it", () => {
    expect(of(change, "2025-05-01", start - day).atStart.since).toBe(start);
    const over = of(change, "2025-05-01", start + 9 * day);
    expect(over.atStart.since).toBe(start + 6 * hour);
    expect(told(over)).toMatchObject({ feeds: 2, uncounted: [] });
  });

  it("looks at nothing that ended as the day began, or begins as it ends", () => {
    const rows = [
      rowOf({ from: start - day, feedsPerDay: 4, to: start }),
      rowOf({ from: start + day, feedsPerDay: 6 }),
    ];
    const o = of(rows);
    expect(told(o)).toMatchObject({ feeds: 0, uncounted: [], grams: 0 });
    expect(o.changes).toEqual([]);
    expect(o.atStart.state).toBe("ended");
  });
});
