import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { planSignals, strengthBelow } from "../../../src/flags/rules/plan-signals.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import type { SeriesFeed } from "../../../src/series/animal-series.js";
import { type LooseOrder, ordersFrom } from "../../series/plan-row.js";
import { dayMs, fedDayOf, first, found, intakeDay, type LooseDay } from "./fed-days.js";

/** Eight feeds of 50 g are ordered; limits of common practice are 60 and 125 %. */
const standing: readonly LooseOrder[] = [
  { from: first - dayMs, dietId: "formula", gPerFeed: 50, feedsPerDay: 8 },
];
const animal = (plans = standing, dietId = "formula") =>
  ({
    id: "P1",
    series: {
      orders: ordersFrom(plans),
      feeds: [18, 19, 20].map((i) => ({ at: first + i * dayMs, dietId }) as SeriesFeed),
    },
  }) as unknown as PreparedAnimal;
const of = (
  today: LooseDay,
  before: LooseDay | null = {},
  limits: Partial<RuleLimits> = {},
  more = {},
  own = animal(),
) => planSignals(own, fedDayOf(today, before, [], more), { ...defaultRuleLimits, ...limits });
const ate = (g: number, more: LooseDay = {}) => ({ offeredG: 400, refusedG: 400 - g, ...more });
const below = (...a: Parameters<typeof of>) => found(of(...a))[0];
const above = (...a: Parameters<typeof of>) => found(of(...a))[1];

describe("less eaten than ordered", () => {
  it("is named below 60 % of it, all feeds being written", () => {
    expect(below(ate(240))).toBe("within");
    expect(below(ate(239))).toBe("raised");
    const [signal] = of(ate(200), ate(380)) as Signal[];
    expect(signal).toMatchObject({
      class: "practice",
      kind: "eaten below plan",
      direction: "low",
      threshold: 60,
      strength: 1.2,
      value: { value: 50, unit: "%" },
      evidence: {
        eaten: 200,
        planned: 400,
        unit: "g",
        feeds: 8,
        plannedFeeds: 8,
        dayBeforePct: 95,
      },
      sentence: { code: "flag-below-plan", parameters: { eaten: 200, planned: 400, limit: 60 } },
    });
  });

  it("on a day with fewer feeds written than ordered is named at once only by what was eaten in each", () => {
    // 160 g in four feeds: 40 %, and 80 % of each feed.
    expect(below(ate(160, { feeds: 4 }))).toBe("within");
    expect(below(ate(119, { feeds: 4 }))).toBe("raised");
    expect(below(ate(160, { feeds: 4 }), ate(239))).toBe("raised");
    expect(below(ate(160, { feeds: 4 }), ate(240))).toBe("within");
    expect(below(ate(160, { feeds: 4 }), null)).toBe("within");
    // More feeds than ordered excuse nothing.
    expect(below(ate(245, { feeds: 12 }))).toBe("within");
    expect(below(ate(10, { feeds: 0 }))).toBe("raised");
  });

  it("of blank refusals is not judged where the answer hangs on them", () => {
    expect(below({ offeredG: 400, blankG: 161 })).toBe("flag-refusals-unknown");
    expect(below({ offeredG: 400, blankG: 160 })).toBe("within");
    expect(below({ offeredG: 239, blankG: 100 })).toBe("raised");
    expect(of({ offeredG: 400, blankG: 161 })[0]).toMatchObject({
      kind: "eaten below plan",
      why: { parameters: { animal: "P1" } },
    });
  });

  it("of a doubted feed counts by its worse meaning", () => {
    expect(below({ offeredG: 400, blankG: 161, doubted: 1 })).toBe("raised");
    const [signal] = of({ offeredG: 400, blankG: 161, doubted: 1 }) as Signal[];
    expect(signal!.evidence).toMatchObject({ eaten: 239 });
    expect(below({ offeredG: 400, blankG: 160, doubted: 1 })).toBe("within");
    expect(below({ offeredG: 400, blankG: 161, doubted: 0 })).toBe("flag-refusals-unknown");
  });

  it("while intake is being built up is named where it stands still or is next to nothing", () => {
    const building = (g: number, before: LooseDay | null) =>
      of(ate(g), before, {}, { buildUp: true });
    expect(found(building(100, ate(100)))[0]).toBe("raised");
    expect(found(building(112, ate(100)))[0]).toBe("within");
    expect(found(building(39, null))[0]).toBe("raised");
    expect((building(100, ate(100))[0] as Signal).sentence.code).toBe(
      "flag-below-plan-building-up",
    );
  });

  it("the day before is not held against it where nothing was ordered then", () => {
    const since = [{ ...standing[0]!, from: first + 20 * dayMs }];
    expect(below(ate(160, { feeds: 4 }), ate(10), {}, {}, animal(since))).toBe("within");
    const signal = of(ate(160), ate(10), {}, {}, animal(since))[0] as Signal;
    expect(signal.evidence).toMatchObject({ dayBeforePct: null });
  });
});

describe("more eaten than ordered", () => {
  const took = (g: number, more: LooseDay = {}) => ({ offeredG: g, ...more });
  it("is named above 125 % of it", () => {
    expect(above(took(500))).toBe("within");
    expect(above(took(501))).toBe("raised");
    const signal = of(took(600))[1] as Signal;
    expect(signal).toMatchObject({
      class: "practice",
      kind: "eaten above plan",
      direction: "high",
      threshold: 125,
      strength: 1.2,
      value: { value: 150, unit: "%" },
      evidence: { eaten: 600, planned: 400, unit: "g", feeds: 8, plannedFeeds: 8 },
      sentence: { code: "flag-above-plan", parameters: { eaten: 600, planned: 400, limit: 125 } },
    });
  });

  it("of blank refusals is not judged where the answer hangs on them", () => {
    expect(above(took(501, { blankG: 1 }))).toBe("flag-refusals-unknown");
    expect(above(took(500, { blankG: 1 }))).toBe("within");
    expect(above(took(600, { blankG: 99 }))).toBe("raised");
    expect(of(took(501, { blankG: 1 }))[1]).toMatchObject({
      kind: "eaten above plan",
      why: { parameters: { animal: "P1" } },
    });
  });

  it("of a doubted feed counts by its worse meaning", () => {
    expect(above(took(501, { blankG: 300, doubted: 1 }))).toBe("raised");
    expect((of(took(501, { blankG: 300, doubted: 1 }))[1] as Signal).evidence).toMatchObject({
      eaten: 501,
    });
    expect(above(took(500, { blankG: 300, doubted: 1 }))).toBe("within");
  });
});

describe("the rules of the plan", () => {
  it("judge nothing without a plan, or where another diet was fed", () => {
    const none = of(ate(10), {}, {}, {}, animal([]));
    expect(none).toMatchObject([
      { kind: "eaten below plan", why: { code: "flag-no-plan", parameters: { animal: "P1" } } },
    ]);
    expect(found(of(ate(10), {}, {}, {}, animal(standing, "clam")))).toEqual([
      "flag-plan-other-diet",
    ]);
    const nil = [{ from: first, gPerFeed: 0, feedsPerDay: 0 }];
    expect(found(of(ate(10), {}, {}, {}, animal(nil)))).toEqual(["flag-plan-other-diet"]);
    const part = [{ ...standing[0]!, from: intakeDay(20).from + 6 * 3_600_000 }];
    expect(found(of(ate(10), {}, {}, {}, animal(part)))).toEqual(["flag-no-plan"]);
  });

  it("are each switched off by themselves", () => {
    const kinds = (limits: Partial<RuleLimits>) => of(ate(300), {}, limits).map((s) => s.kind);
    expect(kinds({})).toEqual(["eaten below plan", "eaten above plan"]);
    expect(kinds({ belowPlanPct: null })).toEqual(["eaten above plan"]);
    expect(kinds({ abovePlanPct: null })).toEqual(["eaten below plan"]);
  });
});

describe("how far below a limit", () => {
  it("is limit over share, 10 at most, at least 1 where raised and below 1 where not", () => {
    expect(strengthBelow(true, 30, 60)).toBe(2);
    expect(strengthBelow(true, 0, 60)).toBe(10);
    expect(strengthBelow(true, 0, 6)).toBe(6);
    expect(strengthBelow(true, 80, 60)).toBe(1);
    expect(strengthBelow(false, 30, 60)).toBe(0.99);
    expect(strengthBelow(false, 120, 60)).toBe(0.5);
  });
});
