import { describe, expect, it } from "vitest";
import type { PlanRow } from "../../../src/records/study.js";
import type { OrderLine } from "../../../src/series/orders/order-line.js";
import { dueLines, instantOfTime, orderedOn } from "../../../src/series/orders/ordered-on.js";
import { ordersOf } from "../../../src/series/orders/orders-of.js";
import { planRow } from "../plan-row.js";

const hour = 3_600_000;
const day = 24 * hour;
/** Thursday 1 May 2025, 06:00 UTC: begin of a feeding day. */
const start = Date.UTC(2025, 4, 1, 6);
const clock = { zone: "UTC", startHour: 6 };
const line = (days: OrderLine["days"], daysWords: string | null = "as written", from = start) =>
  ({ days, daysWords, from }) as OrderLine;

describe("a line is due", () => {
  it("every day where no days are written, and on nobody knows which where they cannot be read", () => {
    expect(orderedOn(line(null, null), "2025-05-01", clock)).toBe(true);
    expect(orderedOn(line(null, "every full moon"), "2025-05-01", clock)).toBeNull();
  });

  it("on its days of the week", () => {
    const weekly = (days: readonly number[], on: string) =>
      orderedOn(line({ kind: "week", days } as OrderLine["days"]), on, clock);
    const thursday = [0, 1, 2, 3, 4, 5, 6, 7].filter((n) => weekly([n], "2025-05-01"));
    expect(thursday).toHaveLength(1);
    expect(weekly(thursday, "2025-05-08")).toBe(true);
    expect(weekly(thursday, "2025-05-02")).toBe(false);
  });

  it("every so many days from the feeding day on which it begins", () => {
    const third = (on: string, from = start) =>
      orderedOn(
        line({ kind: "every", days: 3 } as OrderLine["days"], "every 3 d", from),
        on,
        clock,
      );
    const due = ["2025-05-01", "2025-05-02", "2025-05-03", "2025-05-04", "2025-05-07"].map((d) =>
      third(d),
    );
    expect(due).toEqual([true, false, false, true, true]);
    // Begun at 05:00, it began on the feeding day before.
    expect(third("2025-05-03", start - hour)).toBe(true);
    expect(third("2025-05-04", start - hour)).toBe(false);
  });
});

describe("the lines due at an instant", () => {
  const orders = (days: PlanRow["days"]) =>
    ordersOf(
      [{ ...planRow({ from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 }), days }],
      new Map(),
      { zone: "UTC", feedingDayStartHour: 6 },
    );
  const every2 = { words: "every 2 days", value: { kind: "every", days: 2 } } as PlanRow["days"];

  it("are those in force and due on its feeding day", () => {
    const due = (at: number) => dueLines(orders(every2), at).map((l) => l.gPerDay);
    expect(due(start - 1)).toEqual([]);
    expect(due(start)).toEqual([400]);
    expect(due(start + day - 1)).toEqual([400]);
    expect(due(start + day)).toEqual([]);
    expect(due(start + 2 * day)).toEqual([400]);
  });

  it("hold a line whose days could not be read, without an amount of the day", () => {
    const unread = orders({ words: "at new moon", value: null } as PlanRow["days"]);
    expect(dueLines(unread, start)).toMatchObject([
      { dietId: "milk", gPerFeed: 50, gPerDay: null },
    ]);
    expect(dueLines(orders(null), start)).toMatchObject([{ gPerDay: 400 }]);
  });
});

describe("a clock time in a feeding day", () => {
  const at = (time: string, from = start, to = start + day, zone = "UTC") =>
    instantOfTime(time, from, to, zone);

  it("is the first such time in it, its begin included and its end not", () => {
    expect(at("06:00")).toBe(start);
    expect(at("06:30")).toBe(start + hour / 2);
    expect(at("23:15")).toBe(start + 17.25 * hour);
    expect(at("05:59")).toBe(start + day - 60_000);
    expect(at("06:00", start + 1, start + day)).toBeNull();
    expect(at("06:00", start + 1, start + day + 1)).toBe(start + day);
    expect(at("12:00", start, start + 6 * hour)).toBeNull();
    expect(at("11:59", start, start + 6 * hour)).toBe(start + 6 * hour - 60_000);
  });

  it("is told by the study's zone, the change of the clocks included", () => {
    // Berlin: 30 March 2025 has 23 h; 06:00 summer time is 04:00 UTC.
    const from = Date.UTC(2025, 2, 29, 5);
    const to = Date.UTC(2025, 2, 30, 4);
    expect(at("23:00", from, to, "Europe/Berlin")).toBe(Date.UTC(2025, 2, 29, 22));
    expect(at("05:00", from, to, "Europe/Berlin")).toBe(Date.UTC(2025, 2, 30, 3));
  });
});
