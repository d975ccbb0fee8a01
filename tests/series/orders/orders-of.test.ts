import { describe, expect, it } from "vitest";
import { notice } from "../../../src/core/notice.js";
import type { PlanRow, SetAsideRow } from "../../../src/records/study.js";
import { ordersOf, targetMassAt, unusedOrder } from "../../../src/series/orders/orders-of.js";
import { type LooseOrder, planRow } from "../plan-row.js";

const day = 24 * 3_600_000;
const start = Date.UTC(2025, 4, 1, 6);
const settings = { zone: "UTC", feedingDayStartHour: 6 };
const row = (order: Partial<LooseOrder>, more: Partial<PlanRow> = {}) => ({
  ...planRow({ from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8, ...order }),
  ...more,
});
const at = (line: number, file = "plans.csv") => ({ origin: { file, line } });
const of = (rows: readonly PlanRow[], more = {}) =>
  ordersOf(rows, new Map(), { ...settings, ...more });

describe("the orders of an animal", () => {
  it("stand oldest first, in whatever order they were written, with the study's clock", () => {
    const rows = [row({ from: start + 2 * day }), row({}), row({ from: start + day })];
    const orders = of(rows, { zone: "Europe/Berlin", feedingDayStartHour: 5 });
    expect(orders.lines.map((l) => (l.from - start) / day)).toEqual([0, 1, 2]);
    expect(of([...rows].reverse()).lines).toEqual(orders.lines);
    expect([orders.zone, orders.startHour]).toEqual(["Europe/Berlin", 5]);
  });

  it("of one time stand by what they order, alike however the file has them", () => {
    const a = row({ dietId: "clam" }, at(9));
    const b = row({ feedTimes: ["08:00"], dietId: "milk" }, at(2));
    expect(of([a, b]).lines).toEqual(of([b, a]).lines);
  });

  it("that are the same stand once, and are asked about once", () => {
    const twice = of([row({}, at(2)), row({}, at(3)), row({}, at(4))]);
    expect(twice.lines.map((l) => l.line)).toEqual([2]);
    expect(twice.repeated.map((l) => l.line)).toEqual([2]);
    // By file, then by line: the tenth is after the second.
    expect(of([row({}, at(10)), row({}, at(2))]).lines[0]!.line).toBe(2);
    expect(of([row({}, at(2, "b.csv")), row({}, at(9, "a.csv"))]).lines[0]!.file).toBe("a.csv");
    const two = of([row({}), row({}), row({ dietId: "clam" }), row({ dietId: "clam" })]);
    expect(two.repeated.map((l) => l.dietId).sort()).toEqual(["clam", "milk"]);
  });

  it.each([
    ["grams", { gPerFeed: 51 }, {}],
    ["number of feeds", { feedsPerDay: 9 }, {}],
    ["times", { feedTimes: ["08:00", "12:00"] }, {}],
    ["diet", { dietId: "clam" }, {}],
    ["end", { to: start + 9 * day }, {}],
    ["notes", {}, { notes: "warm" }],
    ["days", {}, { days: { words: "Mo", value: null } }],
    ["a cell that cannot be read", {}, { perDay: { words: "some", value: null } }],
  ])("that differ in %s are two", (_, order, more) => {
    const two = of([row({}), row(order as Partial<LooseOrder>, more as Partial<PlanRow>)]);
    expect([two.lines.length, two.repeated.length]).toEqual([2, 0]);
  });

  it("of one content are one whoever ordered it", () => {
    expect(of([row({}), row({}, { orderedBy: "Dr. Ume" })]).lines).toHaveLength(1);
  });

  it("leave out a row that only sets a target mass", () => {
    const target = {
      ...row({ dietId: null, gPerFeed: null, feedsPerDay: null }),
      targetMassG: 3000,
    };
    const orders = of([target]);
    expect([orders.lines, orders.steps]).toEqual([[], []]);
    expect(orders.targets).toEqual([{ from: start, to: null, massG: 3000 }]);
  });

  it("are added up diet by diet only where the study says so", () => {
    const rows = [row({}), row({ from: start + day, dietId: "clam" })];
    const inForce = (more: object) => of(rows, more).steps.at(-1)!.inForce.lines.length;
    expect([
      inForce({}),
      inForce({ ordersByDiet: false }),
      inForce({ ordersByDiet: true }),
    ]).toEqual([1, 1, 2]);
  });
});

describe("a target mass", () => {
  const orders = of([
    row({ from: start + 3 * day, targetMassG: 2600 }),
    row({ targetMassG: 2000, to: start + 2 * day }),
    row({ from: start + 3 * day, targetMassG: 2500, dietId: "clam" }),
  ]);
  it("is that of the newest line in force, its end not included", () => {
    expect(targetMassAt(orders, start - 1)).toBeNull();
    expect(targetMassAt(orders, start)).toBe(2000);
    expect(targetMassAt(orders, start + 2 * day - 1)).toBe(2000);
    expect(targetMassAt(orders, start + 2 * day)).toBeNull();
    // Two at once: the larger.
    expect(targetMassAt(orders, start + 3 * day)).toBe(2600);
  });
});

describe("a row of orders that was set aside", () => {
  const aside = (code: "records-row-twice" | "records-date-unreadable", parameters: object) =>
    ({
      file: "plans.csv",
      line: 7,
      raw: [" P1 ", "", "milk", "  "],
      reason: { ...notice("level-records-end", "problem", { end: 0, hours: 0 }), code, parameters },
    }) as unknown as SetAsideRow;

  it("is shown word for word, blanks left out", () => {
    expect(unusedOrder(aside("records-date-unreadable", { file: "a.csv", line: 3 }))).toEqual({
      file: "plans.csv",
      line: 7,
      words: "P1, milk",
      repeats: null,
    });
  });

  it("says where the very same row stands, where that is why", () => {
    const repeats = (parameters: object) =>
      unusedOrder(aside("records-row-twice", parameters)).repeats;
    expect(repeats({ file: "a.csv", line: 3 })).toEqual({ file: "a.csv", line: 3 });
    expect(repeats({ file: "a.csv" })).toBeNull();
  });

  it("is told with the orders", () => {
    const rows = [aside("records-row-twice", { file: "a.csv", line: 3 })];
    expect(ordersOf([], new Map(), settings, rows).notUsed.map((o) => o.words)).toEqual([
      "P1, milk",
    ]);
    expect(ordersOf([], new Map(), settings).notUsed).toEqual([]);
  });
});
