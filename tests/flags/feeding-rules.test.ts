import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { judgedSignal } from "../../src/flags/animal-day/judged-signals.js";
import type { SignalKind } from "../../src/flags/animal-day/signal.js";
import type { ReplayOptions } from "../../src/flags/replay.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries } from "../../src/series/animal-series.js";
import { addDays, localNoon } from "../../src/units/calendar.js";
import { ordersFrom } from "../series/plan-row.js";
import { everyThreeHours, feedRow, hour, plan, withFeeds } from "./invented-feeds.js";
import { inventedSeries, inventedStudy } from "./invented-study.js";

/**
 * The rules of feeding. Their limits are common practice without a published
 * threshold; what is checked is the arithmetic by hand, and that a rule says why
 * where it cannot judge.
 */
const day = "2031-03-25";
const yesterday = addDays(day, -1);
const noon = localNoon(day, "UTC");
const base = inventedSeries({
  id: "A",
  birth: "2031-02-28",
  firstAge: 5,
  masses: Array.from({ length: 22 }, (_, i) => 1900 * Math.exp(0.01 * i)),
});
const long = noon - 20 * 24 * hour;
const of = (animal: AnimalSeries, options: ReplayOptions = {}) =>
  replayFlags(inventedStudy([animal]), { from: day, to: day, phaseOn: () => "milk", ...options })
    .days[0]!.animals[0]!;
const raised = <Kind extends SignalKind>(
  animal: AnimalSeries,
  kind: Kind,
  options: ReplayOptions = {},
) => {
  const signal = judgedSignal(of(animal, options), kind);
  return signal?.raised ? signal : undefined;
};
const why = (animal: AnimalSeries, kind: SignalKind) =>
  of(animal).notJudged.find((n) => n.kind === kind)?.why.code;
const eats = (perFeed: (day: string) => number, offeredG = 60) =>
  everyThreeHours(base, (d) => ({ offeredG, refusedG: offeredG - perFeed(d) }));

describe("intake against the plan", () => {
  it("counts the feed times of a plan that states no number of feeds", () => {
    const times = ["01:00", "04:00", "07:00", "10:00", "13:00", "16:00", "19:00", "22:00"];
    const byTimes = plan("A", long, { feedsPerDay: null, feedTimes: times });
    const animal = { ...eats((d) => (d === yesterday ? 30 : 58)), orders: ordersFrom([byTimes]) };
    // 8 times 60 g planned, 8 times 30 g eaten.
    expect(raised(animal, "eaten below plan")!.evidence).toMatchObject({
      planned: 480,
      eaten: 240,
      unit: "g",
      plannedFeeds: 8,
    });
  });

  it("is not judged where refusals are blank and the answer hangs on them", () => {
    const blank = (count: number, each = 60) =>
      everyThreeHours(base, (d, k) => ({
        offeredG: each,
        refusedG: d === yesterday && k < count ? null : each - (d === yesterday ? 30 : 58),
      }));
    // Four of eight blank: eaten between 120 and 360 g of 480 g, so between 25 and 75 %.
    const half = { ...blank(4), orders: ordersFrom([plan("A", long)]) };
    expect(why(half, "eaten below plan")).toBe("flag-refusals-unknown");
    expect(why(half, "refusals")).toBe("flag-refusals-unknown");
    // One of eight blank: at most 7 times 30 + 60 = 270 g, 56 %: below 60 % whatever it refused.
    expect(
      raised({ ...blank(1), orders: ordersFrom([plan("A", long)]) }, "eaten below plan"),
    ).toBeDefined();
  });

  it("names a day with a feed unwritten only where the feeds written lie below, or on the second day", () => {
    // Three of eight feeds written with 58 g each: 36 % of the plan, but 97 % of each feed.
    const lost = (days: readonly string[]) => ({
      ...everyThreeHours(base, (d, k) =>
        days.includes(d) && k < 5 ? null : { offeredG: 60, refusedG: 2 },
      ),
      orders: ordersFrom([plan("A", long)]),
    });
    expect(raised(lost([yesterday]), "eaten below plan")).toBeUndefined();
    expect(raised(lost([yesterday]), "eaten below habit")).toBeUndefined();
    expect(raised(lost([yesterday, addDays(day, -2)]), "eaten below plan")).toBeDefined();
  });

  it("is not judged on the day of admission nor where feeds went to the group", () => {
    const second = inventedSeries({
      id: "A",
      birth: "2031-03-19",
      firstAge: 5,
      masses: [1900, 1900],
    });
    expect(second.daily[0]!.feedingDay).toBe(yesterday);
    const arrived = everyThreeHours(second, () => ({ offeredG: 60, refusedG: 55 }));
    expect(why({ ...arrived, orders: ordersFrom([plan("A", long)]) }, "eaten below plan")).toBe(
      "flag-first-day",
    );
    const shared = {
      ...eats((d) => (d === yesterday ? 10 : 58)),
      orders: ordersFrom([plan("A", long)]),
      sharedFeeds: [feedRow(null, { at: noon - 20 * hour, offeredG: 900, refusedG: 0 })],
    };
    for (const kind of ["eaten below plan", "eaten below habit", "refusals"] as const)
      expect(why(shared, kind)).toBe("flag-shared-feeds");
  });

  it("lets a newcomer build up, but not stand still", () => {
    // In care since 2031-03-21: four days, of which the last three are full.
    const newcomer = inventedSeries({
      id: "A",
      birth: "2031-03-11",
      firstAge: 10,
      masses: [1900, 1890, 1895, 1900, 1910],
    });
    const takes = (shares: readonly number[]) => ({
      ...everyThreeHours(newcomer, (d) => ({
        offeredG: 60,
        refusedG: 60 * (1 - (shares[Number(d.slice(8)) - 21] ?? 1)),
      })),
      orders: ordersFrom([plan("A", long)]),
    });
    expect(raised(takes([0.2, 0.25, 0.4, 0.55]), "eaten below plan")).toBeUndefined();
    expect(raised(takes([0.2, 0.4, 0.41, 0.4]), "eaten below plan")!.value.value).toBeCloseTo(
      40,
      9,
    );
    expect(raised(takes([0.2, 0.2, 0.1, 0.05]), "refusals")!.value.value).toBeCloseTo(95, 9);
  });

  it("compares energy where two diets are planned, whatever their grams", () => {
    // Planned 4 x 60 g of F at 2 kcal/g and 4 x 100 g of P at 1 kcal/g: 880 kcal.
    const animal = {
      ...everyThreeHours(base, (d, k) =>
        k % 2 === 0 || d === yesterday
          ? { offeredG: 60, refusedG: d === yesterday ? 20 : 0 }
          : { offeredG: 100, refusedG: 0, dietId: "P", kcalPerG: 1, kind: "solid" },
      ),
      orders: ordersFrom([
        plan("A", long, { feedsPerDay: 4 }),
        plan("A", long, { feedsPerDay: 4, dietId: "P", gPerFeed: 100 }),
      ]),
    };
    // Eaten 8 x 40 g of F, 640 kcal: 73 % of the energy, though half of the grams.
    const within = of(animal).within.find((s) => s.kind === "eaten below plan")!;
    expect(within.value.value).toBeCloseTo((100 * 640) / 880, 9);
  });

  it("is turned off by null", () => {
    const animal = {
      ...eats((d) => (d === yesterday ? 10 : 58)),
      orders: ordersFrom([plan("A", long)]),
    };
    const off = { belowPlanPct: null, belowHabitPct: null, refusedPct: null };
    expect(raised(animal, "eaten below plan")).toBeDefined();
    expect(of(animal, { rules: off }).raised.map((s) => s.kind)).toEqual([]);
  });
});

describe("intake against the animal's own habit", () => {
  it("names a little less on two days in a row, not on one", () => {
    // 58 g a feed by habit; 45 g are 77.6 %: below 85 %, above 70 %.
    const little = (days: readonly string[]) => eats((d) => (days.includes(d) ? 45 : 58));
    expect(raised(little([yesterday]), "eaten below habit")).toBeUndefined();
    const twice = raised(little([yesterday, addDays(day, -2)]), "eaten below habit")!;
    expect(twice.value.value).toBeCloseTo((100 * 45) / 58, 9);
    expect(noticeText(twice.sentence)).toMatch(/two days in a row/);
  });

  it("leaves an animal alone whose days vary as much by themselves", () => {
    // Days of 58, 44, 50, 58, 44 ... g: two lower days are its own variation.
    const varied = eats((d) => [58, 44, 50][Number(d.slice(8)) % 3]!);
    expect(raised(varied, "eaten below habit")).toBeUndefined();
  });

  it("follows intake that grows with the animal", () => {
    // 1 % more each day; then 80 % of what would have been eaten, on two days.
    const grows = (d: string) =>
      40 * 1.01 ** Number(d.slice(8)) * (d >= addDays(day, -2) ? 0.8 : 1);
    const animal = everyThreeHours(base, (d) => ({ offeredG: 80, refusedG: 80 - grows(d) }));
    expect(raised(animal, "eaten below habit")!.value.value).toBeCloseTo(80, 6);
  });

  it("is not judged over different diets of unknown energy", () => {
    const changed = everyThreeHours(base, (d) => ({
      offeredG: 60,
      refusedG: 2,
      dietId: d < yesterday ? "F" : "P",
      kcalPerG: null,
    }));
    expect(why(changed, "eaten below habit")).toBe("flag-habit-other-diet");
  });
});

describe("refusals", () => {
  it("are measured against what this animal always leaves", () => {
    // Always 37.5 % left: offered 96 g, eaten 60 g.
    expect(
      raised(
        eats(() => 60, 96),
        "refusals",
      ),
    ).toBeUndefined();
    // 10 % left by habit, 40 % on one day and on two.
    const leaves = (days: readonly string[]) => eats((d) => (days.includes(d) ? 36 : 54));
    expect(raised(leaves([yesterday]), "refusals")).toBeUndefined();
    const twice = raised(leaves([yesterday, addDays(day, -2)]), "refusals")!;
    expect(twice.evidence.usualPct).toBeCloseTo(10, 9);
    expect(twice.value.value).toBeCloseTo(40, 9);
  });
});

describe("the fast after weaning", () => {
  const seal = (offeredOnFast: "formula" | "solid") => {
    const series = inventedSeries({
      id: "S",
      species: "harbour seal",
      birth: "2031-03-01",
      firstAge: 3,
      masses: Array.from({ length: 25 }, (_, i) => 9000 + 60 * i),
    });
    return everyThreeHours(series, (d) => ({
      offeredG: 180,
      refusedG: d >= "2031-03-22" ? 180 : 10,
      dietId: d >= "2031-03-22" && offeredOnFast === "solid" ? "H" : "F",
      kind: d >= "2031-03-22" ? offeredOnFast : "formula",
    }));
  };
  const kinds = (animal: AnimalSeries) =>
    replayFlags(inventedStudy([animal]), {
      from: "2031-03-24",
      to: "2031-03-24",
    }).days[0]!.animals[0]!.raised.map((s) => s.kind);
  it("is never seen where formula is offered and refused", () => {
    expect(kinds(seal("formula"))).toContain("refusals");
    expect(kinds(seal("solid"))).not.toContain("refusals");
  });

  it("mutes the rules only as long as fasts of the species last", () => {
    // Muelbert and Bowen, as the species profile states: 15 to 17 d in the wild.
    const animal = withFeeds(
      inventedSeries({
        id: "S",
        species: "harbour seal",
        birth: "2031-02-01",
        firstAge: 30,
        masses: Array.from({ length: 30 }, (_, i) => 15000 - 100 * i),
      }),
      [],
    );
    const fed = everyThreeHours(animal, () => ({ offeredG: 200, refusedG: 190, kind: "solid" }));
    const fasting = (since: string) => (d: string) => (d >= since ? "post-weaning fast" : "solids");
    const gap = (since: string) =>
      replayFlags(inventedStudy([fed]), {
        from: day,
        to: day,
        phaseOn: (_, d) => fasting(since)(d),
      }).days[0]!.animals[0]!.raised.map((s) => s.kind);
    expect(gap(addDays(day, -10))).not.toContain("refusals");
    expect(gap(addDays(day, -19))).toContain("refusals");
  });
});
