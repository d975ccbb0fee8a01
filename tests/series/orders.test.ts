import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { lineWords } from "../../src/series/orders/line-words.js";
import { orderQuestions } from "../../src/series/orders/order-questions.js";
import { orderAt } from "../../src/series/orders/order-steps.js";
import { targetMassAt } from "../../src/series/orders/orders-of.js";
import { type LooseOrder, ordersFrom } from "./plan-row.js";

/**
 * The definition of an order stands in the design notes of this project; every
 * expectation below was worked out from it by hand.
 */
const hour = 3_600_000;
const day = 24 * hour;
/** 1 May 2025, 06:00 UTC: begin of a feeding day. */
const start = Date.UTC(2025, 4, 1, 6);
const words = (orders: ReturnType<typeof ordersFrom>, at: number) =>
  orderAt(orders, at).lines.map((l) => `${l.dietId} ${l.perFeed} x ${l.feeds}`);

describe("what is in force", () => {
  it("of two open orders of one diet is the newest, not the sum", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { from: start + 2 * day, dietId: "milk", gPerFeed: 60, feedsPerDay: 8 },
    ]);
    expect(words(orders, start + day)).toEqual(["milk 50 g x 8"]);
    expect(words(orders, start + 2 * day)).toEqual(["milk 60 g x 8"]);
    expect(orderAt(orders, start - 1).state).toBe("no order");
  });

  it("keeps all lines of one order: twelve feeds of 46 g and two of 20 g are 592 g in 14 feeds", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 46, feedsPerDay: 12 },
      { from: start, dietId: "mash", gPerFeed: 20, feedsPerDay: 2 },
    ]);
    const today = dayOrder(orders, "2025-05-01");
    expect(today.grams).toBe(592);
    expect(today.feeds.map((f) => f.line.gPerFeed).sort()).toEqual([
      20,
      20,
      ...new Array(12).fill(46),
    ]);
  });

  it("an older line of another diet stands beside it until its written end, and is apart without one", () => {
    const older = { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 };
    const newer = { from: start + day, dietId: "clam", gPerFeed: 30, feedsPerDay: 2 };
    const ended = ordersFrom([{ ...older, to: start + 3 * day }, newer]);
    expect(words(ended, start + 2 * day)).toEqual(["clam 30 g x 2", "milk 50 g x 8"]);
    expect(words(ended, start + 3 * day)).toEqual(["clam 30 g x 2"]);
    const open = ordersFrom([older, newer]);
    expect(words(open, start + 2 * day)).toEqual(["clam 30 g x 2"]);
    expect(orderAt(open, start + 2 * day).notEnded.map((l) => l.dietId)).toEqual(["milk"]);
    expect(dayOrder(open, "2025-05-03").grams).toBe(60);
  });

  it("where orders are written diet by diet, adds the open line of another diet", () => {
    const study = { orders_by_diet: true };
    const series = read(study, [
      "P1,2025-05-01 06:00,,milk,50,8,,",
      "P1,2025-05-02 06:00,,clam,30,2,,",
    ]);
    expect(dayOrder(series.orders, "2025-05-03").grams).toBe(460);
  });

  it("after a temporary order is nothing, and what it replaced is named", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { from: start + day, to: start + 2 * day, dietId: "milk", gPerFeed: 25, feedsPerDay: 12 },
    ]);
    const after = orderAt(orders, start + 2 * day);
    expect([after.state, after.lines]).toEqual(["ended", []]);
    expect(after.before.map((l) => l.perFeed)).toEqual(["50 g"]);
    const asked = orderQuestions(orders, dayOrder(orders, "2025-05-03"), start + 2 * day);
    expect(asked.map((n) => n.code)).toEqual(["order-ended"]);
    expect(asked[0]!.parameters["before"]).toBe("milk: 50 g a feed, 8 feeds a day");
  });

  it.each([
    ["in the diet", { dietId: "NPO" }],
    ["by zero of the only diet", { dietId: "milk", gPerFeed: 0 }],
    ["by zero feeds of the only diet", { dietId: "milk", gPerFeed: 50, feedsPerDay: 0 }],
    ["by zero of no diet in particular", { gPerFeed: 0 }],
  ] as const)("nothing by mouth, %s, ends every line", (_, nil: Partial<LooseOrder>) => {
    const orders = ordersFrom([
      { from: start, to: start + 9 * day, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { ...nil, from: start + day },
    ]);
    expect(orderAt(orders, start + 2 * day)).toMatchObject({ state: "nil by mouth", lines: [] });
    expect(dayOrder(orders, "2025-05-03").feeds).toEqual([]);
  });

  it("zero of one of several ends that one; the other stands and is asked about", () => {
    const both = [
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { from: start, dietId: "clam", gPerFeed: 30, feedsPerDay: 2 },
    ];
    const orders = ordersFrom([...both, { from: start + day, dietId: "clam", gPerFeed: 0 }]);
    expect(words(orders, start + day)).toEqual(["milk 50 g x 8"]);
    expect(orderAt(orders, start + day).leftStanding).toHaveLength(1);
    // Ordered beside the zero: nothing to ask.
    const told = ordersFrom([
      ...both,
      { from: start + day, dietId: "clam", gPerFeed: 0 },
      {
        ...both[0]!,
        from: start + day,
      },
    ]);
    expect(orderAt(told, start + day).leftStanding).toEqual([]);
    expect(words(told, start + day)).toEqual(["milk 50 g x 8"]);
  });

  it("a line without a diet neither adds to a named one nor hides it", () => {
    const orders = ordersFrom([
      { from: start, to: start + 9 * day, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { from: start + day, gPerFeed: 60, feedsPerDay: 8 },
    ]);
    expect(words(orders, start + day)).toEqual(["null 60 g x 8"]);
    expect(orderAt(orders, start + day).notEnded.map((l) => l.dietId)).toEqual(["milk"]);
  });

  it("a row that only sets a target is no order", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8, targetMassG: 3000 },
      { from: start + day, targetMassG: 8000 },
    ]);
    expect(words(orders, start + 2 * day)).toEqual(["milk 50 g x 8"]);
    expect(targetMassAt(orders, start)).toBe(3000);
    expect(targetMassAt(orders, start + 2 * day)).toBe(8000);
  });
});

describe("the day, feed by feed", () => {
  it("takes each time while its line is in force: a change at 14:00, and a night over midnight", () => {
    const times = ["08:00", "11:00", "17:00", "23:00", "02:00", "05:00"];
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedTimes: times },
      { from: start + day + 8 * hour, dietId: "milk", gPerFeed: 60, feedTimes: times },
    ]);
    expect(dayOrder(orders, "2025-05-02").feeds.map((f) => `${f.time} ${f.line.perFeed}`)).toEqual([
      "08:00 50 g",
      "11:00 50 g",
      "17:00 60 g",
      "23:00 60 g",
      "02:00 60 g",
      "05:00 60 g",
    ]);
  });

  it("counts no feeds without times over part of a day, and says which order it is", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8 },
      { from: start + day + 8 * hour, dietId: "milk", gPerFeed: 60, feedsPerDay: 8 },
    ]);
    const today = dayOrder(orders, "2025-05-02");
    expect([today.feeds, today.grams]).toEqual([[], null]);
    expect(today.uncounted.map((u) => [u.line.perFeed, (u.to - u.from) / hour, u.why])).toEqual([
      ["50 g", 8, "part of the day"],
      ["60 g", 16, "part of the day"],
    ]);
  });

  it("on the nights on which the clock changes prints each ordered time once", () => {
    const settings = { zone: "Europe/Berlin", feeding_day_start_hour: 6 };
    const series = read(settings, ["P1,2025-03-01 06:00,,milk,50,,00:30 02:30 04:30 20:00,"]);
    // 30 March 2025: the clock goes from 02:00 to 03:00; 26 October: back from 03:00 to 02:00.
    for (const date of ["2025-03-29", "2025-10-25"]) {
      const feeds = dayOrder(series.orders, date).feeds;
      expect(feeds.map((f) => f.time)).toEqual(["20:00", "00:30", "02:30", "04:30"]);
    }
  });

  it("a date as the end includes its whole feeding day; a time ends to the minute", () => {
    const series = read({}, ["P1,2025-05-01,2025-05-02,milk,50,8,,"]);
    expect(dayOrder(series.orders, "2025-05-02").grams).toBe(400);
    expect(orderAt(series.orders, start + 2 * day).state).toBe("ended");
    const timed = read({}, ["P1,2025-05-01,2025-05-02 06:00,milk,50,8,,"]);
    expect(orderAt(timed.orders, start + day).state).toBe("ended");
  });

  it("is due on its days of the week, or every other day from the day it begins", () => {
    // 1 May 2025 was a Thursday.
    const week = read({}, ["P1,2025-05-01,,milk,50,8,,Mon Wed-Fri"]);
    const grams = (orders: typeof week.orders, dates: readonly number[]) =>
      dates.map((d) => dayOrder(orders, `2025-05-0${d}`).feeds.length);
    expect(grams(week.orders, [1, 2, 3, 4, 5, 6, 7])).toEqual([8, 8, 0, 0, 8, 0, 8]);
    const other = read({}, ["P1,2025-05-01,,milk,50,8,,every other day"]);
    expect(grams(other.orders, [1, 2, 3, 4])).toEqual([8, 0, 8, 0]);
    const unread = read({}, ["P1,2025-05-01,,milk,50,8,,when hungry"]);
    const today = dayOrder(unread.orders, "2025-05-01");
    expect([today.grams, today.uncounted[0]?.why]).toEqual([null, "days not read"]);
  });

  it("goes by feed times over a number of feeds, and keeps the number to be asked about", () => {
    const orders = ordersFrom([
      { from: start, dietId: "milk", gPerFeed: 50, feedsPerDay: 8, feedTimes: ["06:00", "12:00"] },
    ]);
    const today = dayOrder(orders, "2025-05-01");
    expect([today.feeds.length, today.grams]).toEqual([2, 100]);
    expect(orderQuestions(orders, today, start + 3 * day).map((n) => n.code)).toEqual([
      "order-times-fewer",
    ]);
  });

  it("adds up volumes by the density of the diet, and never without one", () => {
    const head = "animal_id,from,to,diet_id,ml_per_feed,feeds_per_day";
    const known = read({}, ["P1,2025-05-01,,milk,100,8"], head);
    expect(dayOrder(known.orders, "2025-05-01").grams).toBeCloseTo(8 * 103, 9);
    const none = read({}, ["P1,2025-05-01,,clam,100,8"], head);
    const today = dayOrder(none.orders, "2025-05-01");
    expect([today.feeds.length, today.grams, today.feeds[0]!.line.perFeed]).toEqual([
      8,
      null,
      "100 mL",
    ]);
  });
});

describe("what must be asked", () => {
  const codes = (rows: readonly string[], date = "2025-05-05", settings = {}) => {
    const { orders } = read(settings, rows);
    return orderQuestions(orders, dayOrder(orders, date), start + 30 * day).map((n) => n.code);
  };

  it.each([
    ["a plain order", ["P1,2025-05-01,,milk,50,8,,"], []],
    [
      "a day line and a night line",
      ["P1,2025-05-01,,milk,50,,06:00 12:00,", "P1,2025-05-01,,milk,70,,22:00 02:00,"],
      [],
    ],
    ["two sizes of one diet", ["P1,2025-05-01,,milk,46,12,,", "P1,2025-05-01,,milk,20,2,,"], []],
    [
      "a correction with the same begin",
      ["P1,2025-05-01,,milk,46,12,,", "P1,2025-05-01,,milk,50,12,,"],
      ["order-same-diet-twice"],
    ],
    [
      "the same times twice",
      ["P1,2025-05-01,,milk,46,,06:00 12:00,", "P1,2025-05-01,,milk,50,,12:00 18:00,"],
      ["order-same-diet-twice"],
    ],
    [
      "the very same line twice",
      ["P1,2025-05-01,,milk,46,12,,", "P1,2025-05-01,,milk,46,12,,"],
      ["order-stands-twice"],
    ],
    ["an end before the begin", ["P1,2025-05-01,2025-04-20,milk,46,12,,"], ["order-end-unread"]],
    ["an end in words", ["P1,2025-05-01,when weaned,milk,46,12,,"], ["order-end-unread"]],
    [
      "grams in words",
      ["P1,2025-05-01,,milk,46 x 12,,,"],
      ["order-cell-unread", "order-no-number"],
    ],
    ["no grams", ["P1,2025-05-01,,milk,,8,,"], ["order-no-amount"]],
    ["a begin that cannot be read", ["P1,after lunch,,milk,46,12,,"], ["order-not-used"]],
    [
      "nothing by mouth beside a feed",
      ["P1,2025-05-01,,NPO,,,,", "P1,2025-05-01,,milk,46,12,,"],
      ["order-nil-by-mouth", "order-nil-and-feed"],
    ],
    [
      "an end still to come of a line that was replaced",
      ["P1,2025-05-01,2025-05-20,milk,46,12,,", "P1,2025-05-03,,milk,50,12,,"],
      ["order-replaced"],
    ],
    [
      "another day of the week: nothing at all is ordered for this one",
      ["P1,2025-05-01,,milk,46,12,,Sundays"],
      ["order-not-today", "order-nothing-today"],
    ],
    [
      "another day of the week beside a line for every day",
      ["P1,2025-05-01,,milk,46,12,,", "P1,2025-05-01,,mash,30,2,,Sundays"],
      ["order-not-today"],
    ],
  ] as const)("of %s", (_, rows, expected) => {
    expect(codes(rows)).toEqual(expected);
  });

  it("an order of the last 24 h is new, with the former beside it; a day later it is not", () => {
    const rows = ["P1,2025-05-01,,milk,46,12,,", "P1,2025-05-05 06:00,,milk,50,12,,"];
    const { orders } = read({}, rows);
    const at = (h: number) =>
      orderQuestions(orders, dayOrder(orders, "2025-05-05"), start + 4 * day + h * hour);
    expect(at(23)).toMatchObject([
      { code: "order-new", parameters: { before: "milk: 46 g a feed, 12 feeds a day" } },
    ]);
    expect(at(24)).toEqual([]);
  });

  it("a note that speaks of nothing by mouth is asked about", () => {
    const head = "animal_id,from,to,diet_id,g_per_feed,feeds_per_day,notes";
    const { orders } = read({}, ["P1,2025-05-01,,milk,46,12,NPO from 22:00 before surgery"], head);
    expect(
      orderQuestions(orders, dayOrder(orders, "2025-05-05"), start + 30 * day)[0],
    ).toMatchObject({
      code: "order-nil-in-notes",
      level: "problem",
    });
  });
});

describe("laws of orders", () => {
  const anOrder = fc.record({
    from: fc.integer({ min: 0, max: 12 }).map((n) => start + n * 12 * hour),
    to: fc.option(fc.integer({ min: 1, max: 16 }).map((n) => start + n * 12 * hour)),
    dietId: fc.constantFrom("milk", "clam", "squid", "NPO", null),
    gPerFeed: fc.constantFrom(0, 20, 50, 60),
    feedsPerDay: fc.constantFrom(2, 8),
  });
  const some = fc.array(anOrder, { minLength: 1, maxLength: 9 });
  const instants = Array.from({ length: 20 }, (_, n) => start + (n - 1) * 12 * hour + hour);
  const numbered = (rows: readonly LooseOrder[]) => ordersFrom(rows);

  it("the order of rows changes nothing", () => {
    fc.assert(
      fc.property(some, fc.nat(), (rows, turn) => {
        const k = turn % rows.length;
        const turned = [...rows.slice(k), ...rows.slice(0, k)].reverse();
        expect(numbered(turned)).toEqual(numbered(rows));
      }),
      { seed: 20251, numRuns: 300 },
    );
  });

  it("nothing that has ended revives", () => {
    fc.assert(
      fc.property(some, (rows) => {
        const orders = numbered(rows);
        const gone = new Set<string>();
        const key = (l: {
          from: number;
          dietId: string | null;
          perFeed: string | null;
          to: number | null;
          feeds: number | null;
        }) => JSON.stringify([l.from, l.to, l.dietId, l.perFeed, l.feeds]);
        for (const at of instants) {
          const now = orderAt(orders, at);
          const held = new Set([...now.lines, ...now.notEnded].map(key));
          for (const name of held) expect(gone.has(name)).toBe(false);
          for (const l of orders.lines) if (l.from <= at && !held.has(key(l))) gone.add(key(l));
        }
      }),
      { seed: 20252, numRuns: 300 },
    );
  });

  it("what is added up has begun, has not ended, and is of one begin for each diet", () => {
    fc.assert(
      fc.property(some, (rows) => {
        const orders = numbered(rows);
        for (const at of instants) {
          const { lines, nil, state } = orderAt(orders, at);
          const begins = new Map<string | null, number>();
          for (const l of lines) {
            expect(l.from <= at && (l.to === null || l.to > at)).toBe(true);
            expect(begins.get(l.dietId) ?? l.from).toBe(l.from);
            begins.set(l.dietId, l.from);
            expect(l.means).toBe("feed");
          }
          expect(state === "nil by mouth").toBe(nil.length > 0);
          if (nil.length > 0) expect(lines).toEqual([]);
        }
      }),
      { seed: 20253, numRuns: 300 },
    );
  });

  it("the newest order begun is in force whole, unless it is nothing by mouth or has ended", () => {
    fc.assert(
      fc.property(some, (rows) => {
        const orders = numbered(rows);
        for (const at of instants) {
          const begun = orders.lines.filter((l) => l.from <= at);
          const newest = Math.max(...begun.map((l) => l.from));
          const own = begun.filter((l) => l.from === newest);
          if (own.length === 0 || own.some((l) => l.means === "nil by mouth")) continue;
          const fed = own.filter((l) => l.means === "feed" && (l.to === null || l.to > at));
          expect(orderAt(orders, at).lines).toEqual(expect.arrayContaining(fed));
        }
      }),
      { seed: 20254, numRuns: 300 },
    );
  });

  it("an order that begins later changes nothing before it", () => {
    fc.assert(
      fc.property(some, anOrder, (rows, later) => {
        const without = numbered(rows);
        const withIt = numbered([...rows, later]);
        for (const at of instants.filter((t) => t < later.from))
          expect(orderAt(withIt, at)).toEqual(orderAt(without, at));
      }),
      { seed: 20255, numRuns: 300 },
    );
  });

  it("closing an order of one animal changes no other animal", () => {
    const rows = (end: string) => [
      `P1,2025-05-01,${end},milk,50,8,,`,
      "P2,2025-05-01,,milk,60,8,,",
      "P2,2025-05-03,,clam,20,2,,",
    ];
    const both = (end: string) => readAll({}, rows(end));
    const [open, closed] = [both(""), both("2025-05-02")];
    expect(closed[1]!.orders).toEqual(open[1]!.orders);
    expect(closed[0]!.orders).not.toEqual(open[0]!.orders);
  });
});

describe("a line in words", () => {
  it("is as ordered, in its own units, cells that could not be read word for word", () => {
    const head =
      "animal_id,from,to,diet_id,g_per_feed,ml_per_feed,g_per_day,feeds_per_day,feed_times,days,notes";
    const said = (row: string) => read({}, [row], head).orders.lines.map(lineWords);
    expect(said("P1,2025-05-01,,milk,0.046 kg,,,12,,,")).toEqual([
      "milk: 0.046 kg a feed, 12 feeds a day",
    ]);
    expect(said("P1,2025-05-01,,milk,55 kcal,,,q3h,,,warm")).toEqual([
      "milk: 55 kcal a feed, 8 feeds a day, “warm”",
    ]);
    expect(said("P1,2025-05-01,,milk,46 x 12,,,,,,")).toEqual(["milk: 46 x 12 a feed"]);
    expect(said("P1,2025-05-01,,milk,,45,,,6 9 noon,Mon-Wed,")).toEqual([
      "milk: 45 mL a feed, at 06:00, 09:00, 12:00, Mon-Wed",
    ]);
    expect(said("P1,2025-05-01,,milk,,,480,,,,")).toEqual(["milk: 480 g a day"]);
    expect(said("P1,2025-05-01,,N.P.O.,,,,,,,")).toEqual(["nothing by mouth (written: N.P.O.)"]);
  });
});

const plainHead = "animal_id,from,to,diet_id,g_per_feed,feeds_per_day,feed_times,days";

function readAll(settings: object, rows: readonly string[], head = plainHead) {
  const files = {
    "study.json": JSON.stringify({ zone: "UTC", feeding_day_start_hour: 6, ...settings }),
    "animals.csv":
      "animal_id,species,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,outcome\n" +
      "P1,sea otter,2025-02-01,2025-02-01,observed,2025-02-03 10:00,in care\n" +
      "P2,sea otter,2025-02-01,2025-02-01,observed,2025-02-03 10:00,in care\n",
    "weighings.csv": "animal_id,at,mass_g\nP1,2025-04-30 09:00,2000\n",
    "diets.csv":
      "diet_id,name,kind,energy_kcal_per_g,density_g_per_ml\nmilk,Formula,formula,1.2,1.03\nclam,Clam,solid,0.75,\n",
    "plans.csv": `${[head, ...rows].join("\n")}\n`,
  };
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  return buildSeries(parseStudy(inputs)).animals;
}

function read(settings: object, rows: readonly string[], head = plainHead) {
  return readAll(settings, rows, head)[0]!;
}
