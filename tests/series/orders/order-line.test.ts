import { describe, expect, it } from "vitest";
import type { DietRow, PlanRow } from "../../../src/records/study.js";
import { amountUnread, orderLine, ordersFood } from "../../../src/series/orders/order-line.js";
import { planRow } from "../plan-row.js";

/** What one line of an order comes to, worked out by hand. */
const day = 24 * 3_600_000;
const from = Date.UTC(2025, 4, 1, 6);
const milk = {
  dietId: "milk",
  kind: "formula",
  densityGPerMl: 1.04,
  energyKcalPerG: 1.25,
} as DietRow;
const plain = {
  dietId: "mash",
  kind: "solid",
  densityGPerMl: null,
  energyKcalPerG: null,
} as DietRow;
const diets = new Map([milk, plain].map((d) => [d.dietId, d]));
type Cell = PlanRow["perFeed"];
const cell = (words: string, amount: number | null, unit = "g") =>
  ({ words, value: amount === null ? null : { amount, unit } }) as Cell;
const nil = { words: "NPO", value: "nil by mouth" } as Cell;
const unread = (words: string) => ({ words, value: null });
const row = (more: Partial<PlanRow> = {}): PlanRow => ({
  ...planRow({ from, dietId: "milk" }),
  ...more,
});
const of = (more: Partial<PlanRow> = {}) => orderLine(row(more), diets);
const feeds = (n: number) => ({ words: `${n}`, value: n }) as PlanRow["feedsPerDay"];
const times = (...value: readonly string[]) =>
  ({ words: value.join(" "), value }) as PlanRow["feedTimes"];

describe("the grams of a feed", () => {
  it("are mass as it is, volume by the diet's density, energy by its stated energy", () => {
    expect(of({ perFeed: cell("46", 46) }).gPerFeed).toBe(46);
    expect(of({ perFeed: cell("0.046 kg", 0.046, "kg") }).gPerFeed).toBeCloseTo(46, 9);
    expect(of({ mlPerFeed: cell("50", 50, "mL") }).gPerFeed).toBeCloseTo(52, 9);
    expect(of({ perFeed: cell("50 mL", 50, "mL") })).toMatchObject({ mlPerFeed: 50 });
    expect(of({ perFeed: cell("50 kcal", 50, "kcal") }).gPerFeed).toBeCloseTo(40, 9);
    // Grams go before millilitres; both stand as ordered.
    const both = of({ perFeed: cell("46", 46), mlPerFeed: cell("50", 50, "mL") });
    expect(both).toMatchObject({ gPerFeed: 46, mlPerFeed: 50, perFeed: "46 g, 50 mL" });
  });

  it("cannot be said of a volume or an energy whose diet does not tell; nought is nought", () => {
    const mash = (perFeed: Cell) => of({ dietId: "mash", perFeed }).gPerFeed;
    expect(mash(cell("50 mL", 50, "mL"))).toBeNull();
    expect(mash(cell("50 kcal", 50, "kcal"))).toBeNull();
    expect(mash(cell("0 mL", 0, "mL"))).toBe(0);
    expect(mash(cell("0 kcal", 0, "kcal"))).toBe(0);
    expect(mash(cell("5 degC", 5, "degC"))).toBeNull();
    expect(of({ dietId: "krill", perFeed: cell("50 mL", 50, "mL") })).toMatchObject({
      gPerFeed: null,
      diet: null,
    });
    expect(of({ perFeed: null }).gPerFeed).toBeNull();
    expect(of({ perFeed: cell("46", 46) }).mlPerFeed).toBeNull();
  });

  it("are shown as ordered, with the unit of the column where the cell has none", () => {
    const shown = (c: Cell) => of({ perFeed: c }).perFeed;
    expect(shown(cell("46", 46))).toBe("46 g");
    expect(shown(cell("46 gr", 46))).toBe("46 gr");
    expect(shown(unread("half") as Cell)).toBe("half");
    expect(shown(null)).toBeNull();
    expect(shown(nil)).toBe("NPO");
    expect(of({ perDay: cell("300", 300) }).perDay).toBe("300 g");
  });
});

describe("the feeds and grams of a day", () => {
  it("are as many as times are ordered, else the number ordered", () => {
    const two = of({
      perFeed: cell("46", 46),
      feedTimes: times("08:00", "20:00"),
      feedsPerDay: feeds(8),
    });
    expect(two).toMatchObject({
      feeds: 2,
      feedsOrdered: 8,
      times: ["08:00", "20:00"],
      gPerDay: 92,
    });
    expect(of({ perFeed: cell("46", 46), feedsPerDay: feeds(8) })).toMatchObject({
      feeds: 8,
      times: [],
      gPerDay: 368,
    });
    expect(of({ perFeed: cell("46", 46) })).toMatchObject({
      feeds: null,
      feedsOrdered: null,
      gPerDay: null,
    });
    expect(of({ perDay: cell("300", 300) }).gPerDay).toBe(300);
    expect(of({ perDay: cell("300", 300), feedsPerDay: feeds(6) })).toMatchObject({
      feeds: 6,
      gPerFeed: null,
      gPerDay: 300,
    });
    expect(of().gPerDay).toBeNull();
  });

  it("are not sure where an amount or a number could not be read; an unread end, day or diet leaves them", () => {
    const known = { perFeed: cell("46", 46), feedsPerDay: feeds(8) };
    for (const more of [
      { perDay: unread("some") },
      { mlPerFeed: unread("a cup") },
      { feedTimes: unread("dawn") },
    ] as Partial<PlanRow>[]) {
      const line = of({ ...known, ...more });
      expect([line.gPerDay, amountUnread(line)]).toEqual([null, true]);
    }
    for (const more of [
      { to: unread("soon") },
      { days: unread("full moon") },
      { unread: { dietId: "?" } },
    ] as Partial<PlanRow>[]) {
      const line = of({ ...known, ...more });
      expect([line.gPerDay, amountUnread(line), line.unread.length]).toEqual([368, false, 1]);
    }
    expect(
      of({ ...known, feedsPerDay: unread("often") as PlanRow["feedsPerDay"] }).gPerDay,
    ).toBeNull();
    expect(
      of({ perDay: unread("some") as Cell, to: unread("soon") as PlanRow["to"] }).unread,
    ).toEqual([
      { column: "to", words: "soon" },
      { column: "g_per_day", words: "some" },
    ]);
    expect(of({ ...known, unread: { dietId: "milk?" } } as Partial<PlanRow>).unread).toEqual([
      { column: "diet_id", words: "milk?" },
    ]);
    expect(of(known).unread).toEqual([]);
  });
});

describe("the end of a line", () => {
  const to = (value: number) => ({ words: "as written", value });
  it("at or before its begin is none, and is asked about", () => {
    expect(of({ to: to(from + day) })).toMatchObject({ to: from + day, unread: [] });
    for (const early of [from, from - 1])
      expect(of({ to: to(early) })).toMatchObject({
        to: null,
        unread: [{ column: "to", words: "as written" }],
      });
    expect(of({ to: to(from + 1) })).toMatchObject({ to: from + 1, unread: [] });
    expect(of().to).toBeNull();
  });
});

describe("what a line means", () => {
  const means = (more: Partial<PlanRow>) => {
    const line = of(more);
    return [line.means, line.nilWords];
  };
  it("is nothing by mouth by its diet or any of its amounts", () => {
    expect(means({ dietId: "NPO" })).toEqual(["nil by mouth", "NPO"]);
    expect(means({ perFeed: nil })).toEqual(["nil by mouth", "NPO"]);
    expect(means({ perFeed: cell("46", 46), perDay: nil })).toEqual(["nil by mouth", "NPO"]);
    expect(means({ feedsPerDay: nil as unknown as PlanRow["feedsPerDay"] })).toEqual([
      "nil by mouth",
      "NPO",
    ]);
    // A diet of that name that is in the table is food.
    const named = orderLine(
      row({ dietId: "NPO", perFeed: cell("46", 46) }),
      new Map([["NPO", milk]]),
    );
    expect(named.means).toBe("feed");
  });

  it("is zero where every amount is nought, or no feed is ordered", () => {
    expect(means({ perFeed: cell("0", 0) })).toEqual(["zero", "0"]);
    expect(means({ perFeed: cell("0", 0), perDay: cell("0 g", 0) })[0]).toBe("zero");
    expect(means({ perFeed: cell("0", 0), mlPerFeed: cell("50", 50, "mL") })).toEqual([
      "feed",
      null,
    ]);
    expect(means({ perFeed: cell("0", 0), perDay: unread("some") as Cell })).toEqual([
      "feed",
      null,
    ]);
    expect(means({ perFeed: cell("46", 46), feedsPerDay: feeds(0) })).toEqual(["zero", "46"]);
    expect(means({ feedsPerDay: feeds(0) })).toEqual(["zero", "0"]);
  });

  it("is a feed otherwise, also where nothing but a diet is written", () => {
    expect(means({})).toEqual(["feed", null]);
    expect(means({ perFeed: cell("46", 46) })).toEqual(["feed", null]);
    expect(means({ perFeed: unread("half") as Cell })).toEqual(["feed", null]);
  });
});

describe("a row of plans", () => {
  it("orders food where anything but a target mass is written", () => {
    const empty = row({ dietId: null });
    expect(ordersFood({ ...empty, targetMassG: 3000 })).toBe(false);
    for (const more of [
      { dietId: "milk" },
      { perFeed: cell("1", 1) },
      { mlPerFeed: cell("1", 1, "mL") },
      { perDay: cell("1", 1) },
      { feedsPerDay: feeds(1) },
      { feedTimes: times("08:00") },
      { notes: "warm" },
    ] as Partial<PlanRow>[])
      expect(ordersFood({ ...empty, ...more })).toBe(true);
  });

  it("is told with its diet, days, who ordered it, its notes and its place", () => {
    const days = { words: "every 2 days", value: { kind: "every", days: 2 } } as PlanRow["days"];
    expect(of({ days, orderedBy: "Dr. Ume", notes: "warm", targetMassG: 3000 })).toMatchObject({
      from,
      dietId: "milk",
      diet: {
        dietId: "milk",
        kind: "formula",
        densityGPerMl: 1.04,
        composition: { energyKcalPerG: 1.25 },
      },
      days: { kind: "every", days: 2 },
      daysWords: "every 2 days",
      orderedBy: "Dr. Ume",
      notes: "warm",
      targetMassG: 3000,
      file: "plans.csv",
      line: 2,
    });
    expect(of()).toMatchObject({ days: null, daysWords: null });
  });
});
