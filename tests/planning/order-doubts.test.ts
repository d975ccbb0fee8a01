import { describe, expect, it } from "vitest";
import { orderDoubts } from "../../src/planning/order-doubts.js";
import type { DietRow, PlanRow } from "../../src/records/study.js";
import type { AnimalSeries, OrderBounds, SeriesFeed } from "../../src/series/animal-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { ordersOf } from "../../src/series/orders/orders-of.js";
import { kJPerKcal } from "../../src/units/quantity.js";
import { type LooseOrder, planRow } from "../series/plan-row.js";

/** One feeding day from 06:00 UTC, looked at at its noon; what is not asked about is switched off. */
const hour = 3_600_000;
const day = 24 * hour;
const start = Date.UTC(2025, 4, 1, 6);
const at = start + 6 * hour;
const off: OrderBounds = {
  feedPctOfMass: null,
  feedPctOfUsual: null,
  dayChangePct: null,
  newcomerKcalPct: null,
  dietEnergyPct: null,
  massGrowthPct: null,
};
/** 1.16 kcal/g by 4, 9 and 4 kcal/g of protein, fat and carbohydrate. */
const milk = {
  dietId: "milk",
  kind: "formula",
  waterPct: 80,
  proteinPct: 8,
  fatPct: 8,
  carbohydratePct: 3,
  fibrePct: 0,
  ashPct: 1,
  energyKcalPerG: 1.16,
  densityGPerMl: 1.25,
} as DietRow;
const broth = { ...milk, dietId: "broth", energyKcalPerG: 0.58, densityGPerMl: null } as DietRow;
const clam = { ...milk, dietId: "clam", kind: "solid" } as DietRow;

type Row = Omit<Partial<LooseOrder>, "from"> &
  Partial<Pick<PlanRow, "mlPerFeed" | "days">> & { readonly fromD?: number };
const line = ({ fromD = 0, mlPerFeed = null, days = null, ...more }: Row): PlanRow => ({
  ...planRow({ from: start + fromD * day, dietId: "milk", feedsPerDay: 8, ...more }),
  mlPerFeed,
  days,
});
const mL = (amount: number): Row => ({
  mlPerFeed: { words: `${amount}`, value: { amount, unit: "mL" } },
});

interface Case {
  readonly bounds: Partial<OrderBounds>;
  readonly diets?: readonly DietRow[];
  readonly massG?: number | null;
  readonly weighedD?: number;
  readonly feeds?: readonly Partial<SeriesFeed>[];
  readonly admittedD?: number | null;
  readonly signs?: readonly { kind: string; written: string; atD?: number; state?: string }[];
}
const doubts = (rows: readonly Row[], given: Case) => {
  const { massG = 2000, weighedD = 0, feeds = [], admittedD = null, signs = [] } = given;
  const diets = new Map((given.diets ?? [milk, broth, clam]).map((d) => [d.dietId, d]));
  const clock = { zone: "UTC", feedingDayStartHour: 6 };
  const series = {
    animal: { admittedAt: admittedD === null ? null : start + admittedD * day },
    daily: massG === null ? [] : [{ at: start + weighedD * day, massG }],
    feeds,
    signs: signs.map(({ atD = 0, state = "present", ...s }) => ({
      ...s,
      state,
      at: start + atD * day,
    })),
    orders: ordersOf(rows.map(line), diets, clock),
  } as unknown as AnimalSeries;
  const settings = { ...clock, speciesOverrides: {}, orderBounds: { ...off, ...given.bounds } };
  return orderDoubts(series, dayOrder(series.orders, "2025-05-01"), { at, settings });
};
const told = (all: ReturnType<typeof doubts>) => all.map((d) => [d.level, d.why.code]);
const ids = (all: ReturnType<typeof doubts>) => all.map((d) => d.lines.map((l) => l.dietId));

describe("a feed against body mass", () => {
  const bounds = { feedPctOfMass: 10 };
  const notChecked = { what: "feeds against mass", why: "no sure mass" };

  it("is a danger beyond the bound, and not on it", () => {
    expect(doubts([{ gPerFeed: 200 }], { bounds })).toEqual([]);
    const over = doubts([{ gPerFeed: 210 }], { bounds });
    expect(over).toMatchObject([
      {
        level: "danger",
        lines: [{ perFeed: "210 g" }],
        why: {
          code: "order-feed-over-mass",
          level: "problem",
          parameters: { feed: "210 g", pct: 10.5, mass: 2000, bound: 10 },
        },
      },
    ]);
    expect(doubts([{ gPerFeed: 210 }], { bounds: {} })).toEqual([]);
    // A line is doubted once, however many feeds it orders; one that orders none is no feed.
    expect(doubts([{ feedTimes: ["08:00", "12:00"], gPerFeed: 210 }], { bounds })).toHaveLength(1);
    expect(doubts([{ gPerFeed: 0 }], { bounds, massG: null })).toEqual([]);
  });

  it("goes by a weighing of the last seven days, and is not checked without", () => {
    const weighed = (weighedD: number) => told(doubts([{ gPerFeed: 210 }], { bounds, weighedD }));
    expect(weighed(0.25 - 7)).toEqual([["danger", "order-feed-over-mass"]]);
    expect(weighed(0.24 - 7)).toEqual([["not checked", "order-not-checked"]]);
    expect(doubts([{ gPerFeed: 20 }], { bounds, massG: null })).toMatchObject([
      {
        level: "not checked",
        lines: [],
        why: { code: "order-not-checked", level: "info", parameters: notChecked },
      },
    ]);
    expect(doubts([], { bounds, massG: null })).toEqual([]);
  });

  it("is the larger of grams and millilitres, by density or a gram each", () => {
    const size = (row: Row) => doubts([row], { bounds })[0]?.why.parameters["pct"];
    // 180 mL of 1.25 g/mL are 225 g.
    expect(size({ gPerFeed: 190, ...mL(180) })).toBe(11.25);
    expect(size({ gPerFeed: 230, ...mL(100) })).toBe(11.5);
    expect(size(mL(180))).toBe(11.25);
    expect(size({ dietId: "broth", ...mL(210) })).toBe(10.5);
    expect(size({ dietId: "unheard", ...mL(210) })).toBe(10.5);
  });

  it("of which no amount is ordered is passed over, other lines are not", () => {
    const rows = [{ gPerFeed: null }, { dietId: "broth", gPerFeed: 210 }];
    expect(ids(doubts(rows, { bounds }))).toEqual([["broth"]]);
    // Its number is not ordered either: the feed is held against mass all the same.
    expect(ids(doubts([{ gPerFeed: 210, feedsPerDay: null }], { bounds }))).toEqual([["milk"]]);
  });

  it("is all diets that are ordered for one time", () => {
    const meal = (milkG: number | null, brothG: number, brothAt = "08:00") =>
      doubts(
        [
          { feedTimes: ["08:00", "20:00"], gPerFeed: milkG },
          { dietId: "broth", feedTimes: [brothAt], gPerFeed: brothG },
        ],
        { bounds },
      );
    const together = meal(110, 100);
    expect(told(together)).toEqual([["danger", "order-feed-over-mass"]]);
    expect(ids(together)).toEqual([["broth", "milk"]]);
    expect(together[0]!.why.parameters).toMatchObject({ feed: "100 g + 110 g", pct: 10.5 });
    expect(meal(100, 100)).toEqual([]);
    expect(meal(110, 100, "10:00")).toEqual([]);
    // What is known of a meal may be too much by itself; one too large by itself is said once.
    expect(ids(meal(null, 210))).toEqual([["broth"]]);
    expect(ids(meal(110, 210))).toEqual([["broth"]]);
    // Feeds without a time are no meal together.
    expect(doubts([{ gPerFeed: 110 }, { dietId: "broth", gPerFeed: 110 }], { bounds })).toEqual([]);
  });
});

describe("grams and millilitres of one feed", () => {
  it("are asked about where they differ by more than density may", () => {
    // 100 mL of 1.25 g/mL are 125 g; e^0.15 is 1.162, so that 108 to 145 g are near.
    const one = (gPerFeed: number | null, ml: number) =>
      doubts([{ gPerFeed, ...mL(ml) }], { bounds: {} });
    expect([one(145, 100), one(108, 100), one(null, 100)]).toEqual([[], [], []]);
    expect(one(146, 100)).toMatchObject([
      {
        level: "ask",
        lines: [{ dietId: "milk" }],
        why: {
          code: "order-amounts-disagree",
          level: "problem",
          parameters: { feed: "146 g, 100 mL" },
        },
      },
    ]);
    expect(one(107, 100)).toHaveLength(1);
    // Nought of one and some of the other do not fit either; grams alone fit.
    expect([one(0, 100), one(100, 0)].map((d) => d.length)).toEqual([1, 1]);
    expect(doubts([{ gPerFeed: 100 }], { bounds: {} })).toEqual([]);
  });
});

describe("a feed against the usual feed", () => {
  const bounds = { feedPctOfUsual: 50 };
  const feeds = [1, 2, 3, 4, 5].map((h) => ({
    at: at - h * hour,
    dietId: "milk",
    offeredG: 60,
    composition: { kind: "formula" } as SeriesFeed["composition"],
  }));

  it("is asked about below the bound, and not on it", () => {
    expect(doubts([{ gPerFeed: 30 }], { bounds, feeds })).toEqual([]);
    expect(doubts([{ gPerFeed: 27 }], { bounds, feeds })).toMatchObject([
      {
        level: "ask",
        lines: [{ dietId: "milk" }],
        why: {
          code: "order-feed-under-usual",
          level: "caution",
          parameters: { feed: "27 g", pct: 45, usual: 60, bound: 50 },
        },
      },
    ]);
    expect(doubts([{ gPerFeed: 27 }], { bounds: {}, feeds })).toEqual([]);
    expect(doubts([{ gPerFeed: 27 }], { bounds })).toEqual([]);
    expect(doubts([{ gPerFeed: null }], { bounds, feeds })).toEqual([]);
  });

  it("is the whole bottle where formulas are ordered for the same feeds", () => {
    const pair = (more: Row) =>
      ids(
        doubts([{ gPerFeed: 20 }, { dietId: "broth", gPerFeed: 10, ...more }], { bounds, feeds }),
      );
    expect(pair({})).toEqual([]);
    expect(pair({ gPerFeed: 9 })).toEqual([["broth"], ["milk"]]);
    // Another begin, kind, number or time of feeds is another bottle.
    expect(pair({ dietId: "clam" })).toEqual([["milk"]]);
    expect(pair({ feedsPerDay: 7 })).toEqual([["broth"], ["milk"]]);
    expect(pair({ feedTimes: ["08:00"] })).toEqual([["broth"], ["milk"]]);
    const begun = { fromD: -1, to: start + 2 * day };
    expect(pair(begun)).toEqual([["milk"], ["broth"]]);
    // How much the other half is, is not known.
    expect(pair({ gPerFeed: null })).toEqual([]);
  });
});

describe("a day against the order before", () => {
  const bounds = { dayChangePct: 40 };
  const change = (now: Row, before: Row = {}, more: Partial<Case> = {}) =>
    doubts([{ fromD: -3, gPerFeed: 50, ...before }, now], { bounds, ...more });

  it("is asked about where it is more or less by more than the bound, and not on it", () => {
    expect([change({ gPerFeed: 70 }), change({ gPerFeed: 30 })]).toEqual([[], []]);
    expect(change({ gPerFeed: 75 })).toMatchObject([
      {
        level: "ask",
        lines: [{ perFeed: "75 g" }],
        why: {
          code: "order-day-change",
          level: "caution",
          parameters: { now: 600, before: 400, unit: "g", pct: 50, more: true, bound: 40 },
        },
      },
    ]);
    const less = change({ gPerFeed: 25 })[0]!;
    expect(less.why.parameters).toMatchObject({ now: 200, pct: 50, more: false });
    expect(change({ gPerFeed: 75 }, {}, { bounds: {} })).toEqual([]);
    // 100 (1.1 - 1) is a little more than 10 in the computer.
    expect(change({ gPerFeed: 55 }, {}, { bounds: { dayChangePct: 10 } })).toEqual([]);
  });

  it("is in grams of one diet, and in kilocalories where the diet changes", () => {
    const { parameters } = change({ dietId: "broth", gPerFeed: 50 })[0]!.why;
    expect(parameters).toMatchObject({ unit: "kcal", more: false });
    expect(parameters["pct"]).toBeCloseTo(50, 6);
    expect(change({ dietId: "broth", gPerFeed: 100 })).toEqual([]);
  });

  it("is not checked where an amount or an energy is not known", () => {
    const what = "the day against the order before";
    const unknown = [
      change({ gPerFeed: 75, feedsPerDay: null }),
      change({ gPerFeed: 75 }, { feedsPerDay: null }),
      change({ gPerFeed: 75 }, { gPerFeed: 0, ...mL(50) }),
      change({ gPerFeed: 75, dietId: "unheard" }),
    ].map((all) => all.filter((d) => d.why.code !== "order-amounts-disagree"));
    for (const doubt of unknown)
      expect(doubt).toMatchObject([
        { level: "not checked", lines: [], why: { parameters: { what } } },
      ]);
    expect(unknown[0]![0]!.why.parameters["why"]).toBe("an amount or an energy is not known");
  });

  it("is one that began in the last day, or begins in the day printed", () => {
    const from = (fromD: number) => change({ fromD, gPerFeed: 75 }).length;
    expect([from(-0.75), from(-0.74), from(0.99), from(1)]).toEqual([0, 1, 1, 0]);
    // What ends in the day is no new order.
    expect(change({ fromD: -2, gPerFeed: 75, to: start + 4 * hour })).toEqual([]);
    expect(doubts([{ gPerFeed: 75 }], { bounds })).toEqual([]);
  });

  it("that is nothing by mouth, or not due on that day, is no change of amounts", () => {
    expect(change({ dietId: "nil by mouth" })).toEqual([]);
    // 1 May 2025 is a Thursday.
    const week = (n: number) =>
      ({ words: "x", value: { kind: "week", days: [n] } }) as NonNullable<PlanRow["days"]>;
    expect(
      [1, 2, 3, 4, 5, 6, 7].map((n) => change({ gPerFeed: 75, days: week(n) }).length),
    ).toEqual([0, 0, 0, 1, 0, 0, 0]);
  });
});

describe("more energy for a newcomer", () => {
  const bounds = { newcomerKcalPct: 25 };
  const rise = (gPerFeed: number, more: Partial<Case> = {}, before: Row = {}) =>
    doubts([{ fromD: -3, gPerFeed: 40, ...before }, { gPerFeed }], {
      bounds,
      admittedD: -3,
      ...more,
    });

  it("is asked about beyond the bound, in kilocalories, and not on it", () => {
    expect([rise(50), rise(20)]).toEqual([[], []]);
    const asked = rise(60);
    expect(asked).toMatchObject([
      {
        level: "ask",
        lines: [{ perFeed: "60 g" }],
        why: {
          code: "order-newcomer-rise",
          level: "caution",
          parameters: { pct: 50, bound: 25, thin: false },
        },
      },
    ]);
    const { now, before } = asked[0]!.why.parameters as { now: number; before: number };
    expect([now, before]).toEqual([expect.closeTo(556.8, 9), expect.closeTo(371.2, 9)]);
    expect(rise(60, { bounds: {} })).toEqual([]);
    expect(rise(60, {}, { dietId: "unheard" })).toEqual([]);
    expect(rise(60, {}, { feedsPerDay: null })).toEqual([]);
    expect(doubts([{ gPerFeed: 60 }], { bounds, admittedD: -3 })).toEqual([]);
  });

  it("is one admitted in the seven days before the order", () => {
    const admitted = (admittedD: number | null) => rise(60, { admittedD }).length;
    expect([admitted(-7), admitted(-7.01), admitted(null)]).toEqual([1, 0, 0]);
  });

  it("is let be where its condition is known and nothing says thin", () => {
    const seen = (kind: string, written: string, more: object = {}) =>
      rise(60, { signs: [{ kind, written, atD: -3, ...more }] }).map(
        (d) => d.why.parameters["thin"],
      );
    expect(seen("condition score", "3 of 5")).toEqual([]);
    expect(seen("condition score", "3 of 5", { atD: -4 })).toEqual([]);
    expect(seen("condition score", "3 of 5", { atD: -4.01 })).toEqual([false]);
    expect(seen("condition score", "?", { state: "unclear" })).toEqual([false]);
    expect(seen("exam", "bright, good condition")).toEqual([false]);
    expect(seen("condition score", "2, thin")).toEqual([true]);
    for (const words of ["Emaciated", "underweight", "skinny", "starved", "starving", "bony"])
      expect(seen("exam", `came in ${words}`)).toEqual([true]);
    expect([seen("note", "cachectic"), seen("note", "dehydrated")]).toEqual([[true], [true]]);
    // Said of something else, it says nothing of the animal; nor does a part of a word.
    expect(seen("stool", "thin")).toEqual([false]);
    expect(seen("note", "something")).toEqual([false]);
  });
});

describe("the stated energy of a diet", () => {
  const bounds = { dietEnergyPct: 25 };
  const stated = (energyKcalPerG: number | null, more: Partial<DietRow> = {}) =>
    doubts([{ gPerFeed: 50 }, { dietId: "clam", gPerFeed: 10 }], {
      bounds,
      diets: [{ ...milk, energyKcalPerG, ...more } as DietRow, clam],
    });

  it("is asked about where it is off its composition by more than the bound, and not on it", () => {
    expect([stated(1.45), stated(0.87), stated(null), stated(9, { fatPct: null })]).toEqual([
      [],
      [],
      [],
      [],
    ]);
    const high = stated(1.74);
    expect(high).toMatchObject([
      {
        level: "ask",
        lines: [{ dietId: "milk" }],
        why: {
          code: "order-diet-energy",
          level: "caution",
          parameters: { diet: "milk", stated: 1.74, pct: 50, slip: null },
        },
      },
    ]);
    expect(high[0]!.why.parameters["computed"]).toBeCloseTo(1.16, 9);
    expect(stated(0.58)[0]!.why.parameters).toMatchObject({ pct: 50, slip: null });
    expect(
      doubts([{ gPerFeed: 50 }], {
        bounds: {},
        diets: [{ ...milk, energyKcalPerG: 9 } as DietRow],
      }),
    ).toEqual([]);
    // A diet is doubted once, with each of its lines.
    const twice = [{ gPerFeed: 50 }, { gPerFeed: 40, feedsPerDay: 2 }];
    const off = doubts(twice, { bounds, diets: [{ ...milk, energyKcalPerG: 3 } as DietRow] });
    expect(ids(off)).toEqual([["milk", "milk"]]);
    expect(doubts([{ dietId: "unheard", gPerFeed: 50 }], { bounds })).toEqual([]);
  });

  it("that is kilojoules, or has its point misplaced, is named as that", () => {
    const slip = (times: number) => stated(1.16 * times)[0]!.why.parameters["slip"];
    expect([slip(kJPerKcal), slip(1.14 * kJPerKcal), slip(0.86 * kJPerKcal)]).toEqual([
      "kJ",
      "kJ",
      "kJ",
    ]);
    expect([slip(1.16 * kJPerKcal), slip(0.84 * kJPerKcal)]).toEqual([null, null]);
    expect([slip(0.01), slip(0.1), slip(0.114), slip(0.0086)]).toEqual(
      new Array(4).fill("hundredth"),
    );
    expect([slip(0.05), slip(0.116), slip(0.0084)]).toEqual([null, null, null]);
  });
});

describe("all that is doubted of an order", () => {
  it("is told with dangers first, then what is asked, then what could not be checked", () => {
    const all = doubts(
      [
        { fromD: -3, gPerFeed: 50, feedsPerDay: null },
        { gPerFeed: 210, ...mL(100) },
      ],
      { bounds: { feedPctOfMass: 10, dayChangePct: 40, dietEnergyPct: 25 } },
    );
    expect(told(all)).toEqual([
      ["danger", "order-feed-over-mass"],
      ["ask", "order-amounts-disagree"],
      ["not checked", "order-not-checked"],
    ]);
    const unsure = doubts([{ gPerFeed: 210, ...mL(100) }], {
      bounds: { feedPctOfMass: 10 },
      massG: null,
    });
    expect(unsure.map((d) => d.level)).toEqual(["ask", "not checked"]);
  });
});
