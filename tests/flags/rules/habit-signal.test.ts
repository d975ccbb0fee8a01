import { describe, expect, it } from "vitest";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { habitSignal } from "../../../src/flags/rules/habit-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import { animalFed, fedDayOf, found, type LooseDay } from "./fed-days.js";

/** Limits of common practice: below 70 % on one day, below 85 % on two in a row. */
const of = (
  today: LooseDay,
  before: LooseDay | null = {},
  habit: readonly LooseDay[] = Array.from({ length: 10 }, () => ({})),
  limits: Partial<RuleLimits> = {},
  animal = animalFed(),
) => habitSignal(animal, fedDayOf(today, before, habit), { ...defaultRuleLimits, ...limits });
const ate = (g: number, more: LooseDay = {}) => ({ offeredG: g, ...more });
const is = (...a: Parameters<typeof of>) => found(of(...a))[0];

describe("less eaten than the animal's own habit", () => {
  it("is named below 70 % of it on one day", () => {
    expect(is(ate(280))).toBe("within");
    expect(is(ate(279))).toBe("raised");
    const [signal] = of(ate(200), ate(380)) as Signal[];
    expect(signal).toMatchObject({
      class: "practice",
      kind: "eaten below habit",
      direction: "low",
      threshold: 70,
      evidence: {
        eaten: 200,
        unit: "kcal",
        days: 10,
        feeds: 8,
        usualFeeds: 8,
      },
      sentence: { code: "flag-below-habit", parameters: { unit: "kcal", eaten: 200, limit: 70 } },
    });
    const { evidence } = signal as Extract<Signal, { kind: "eaten below habit" }>;
    expect(evidence.usual).toBeCloseTo(400, 9);
    expect(evidence.dayBeforePct).toBeCloseTo(95, 9);
    expect(evidence.spreadPct).toBe(3);
    expect(signal!.value).toMatchObject({ unit: "%", n: 10 });
    expect(signal!.value.value).toBeCloseTo(50, 9);
    expect(signal!.strength).toBeCloseTo(1.4, 9);
  });

  it("is named below 85 % on two days in a row", () => {
    expect(is(ate(339), ate(339))).toBe("raised");
    expect(is(ate(341), ate(339))).toBe("within");
    expect(is(ate(339), ate(341))).toBe("within");
    expect(is(ate(339), null)).toBe("within");
    const [twice] = of(ate(330), ate(330)) as Signal[];
    expect(twice).toMatchObject({
      threshold: 85,
      sentence: { code: "flag-below-habit-twice", parameters: { limit: 85 } },
    });
    expect(twice!.strength).toBeCloseTo(85 / 82.5, 9);
    const [within] = of(ate(330), null) as Signal[];
    expect(within).toMatchObject({ threshold: 70, evidence: { dayBeforePct: null } });
    expect(within!.sentence.parameters).toMatchObject({ before: null, limit: 70 });
    // Not raised stays below its threshold.
    expect(within!.strength).toBe(0.99);
    expect(is(ate(330), ate(330), undefined, { belowHabitTwoDaysPct: null })).toBe("within");
  });

  it("on two days must also lie beyond 2.5 of its own spreads", () => {
    // By turns 10 % more and less: the spread is 1.4826 * ln(1.1) about the middle.
    const swings = Array.from({ length: 10 }, (_, i) => ate(i % 2 === 0 ? 440 : 400 / 1.1));
    expect(is(ate(330), ate(330), swings)).toBe("within");
    const limit = 100 * Math.exp(-2.5 * 1.4826 * Math.log(1.1));
    expect(limit).toBeCloseTo(70.2, 1);
    expect(is(ate(0.999 * 4 * limit), ate(0.999 * 4 * limit), swings)).toBe("raised");
    expect(is(ate(1.001 * 4 * limit), ate(1.001 * 4 * limit), swings)).toBe("within");
  });

  it("on a day with fewer feeds written is judged by what was eaten in each, until the second", () => {
    const few = ate(200, { feeds: 4 });
    expect(is(few)).toBe("within");
    expect(is(few, ate(281))).toBe("within");
    expect(is(few, ate(279))).toBe("raised");
    expect(is(ate(139, { feeds: 4 }))).toBe("raised");
    // More feeds than usual excuse nothing.
    expect(is(ate(279, { feeds: 16 }))).toBe("raised");
    // Two days a little below, one with half of its feeds: no alarm.
    expect(is(ate(330, { feeds: 4 }), ate(330))).toBe("within");
  });

  it("takes what is usual at the newest, of an animal that eats more each day", () => {
    // 1 % more each day: 11 days before the day judged was 400 / 1.01^11.
    const growing = (rate: number) =>
      Array.from({ length: 10 }, (_, i) => ate(400 / rate ** (i + 2)));
    const usual = (habit: readonly LooseDay[]) =>
      (of(ate(400), {}, habit)[0] as Extract<Signal, { kind: "eaten below habit" }>).evidence.usual;
    expect(usual(growing(1.01))).toBeCloseTo(400, 6);
    // No more than growth explains (1.5 % a day), and never less than it ate: a fall is no habit.
    const middle = (rate: number) =>
      Math.exp((Math.log(400 / rate ** 6) + Math.log(400 / rate ** 7)) / 2);
    expect(usual(growing(1.05))).toBeCloseTo(middle(1.05) * Math.exp(0.015 * 6.5), 6);
    expect(usual(growing(0.97))).toBeCloseTo(middle(0.97), 6);
  });

  it("is no habit with fewer than four days, without food on them, or while intake is built up", () => {
    expect(is(ate(10), {}, [{}, {}, {}])).toBe("flag-no-habit");
    expect(is(ate(10), {}, [{}, {}, {}, {}])).toBe("raised");
    const day = fedDayOf(ate(10), {}, undefined, { buildUp: true });
    const [building] = habitSignal(animalFed(), day, defaultRuleLimits);
    expect(building).toMatchObject({
      kind: "eaten below habit",
      why: { code: "flag-no-habit", parameters: { animal: "P1", n: 10 } },
    });
  });

  it("is none where next to nothing was eaten on its days: no share of nothing is told", () => {
    const refused = Array.from({ length: 10 }, () => ({ offeredG: 400, refusedG: 400 }));
    expect(is(ate(100), {}, refused)).toBe("flag-no-habit");
    const one = Array.from({ length: 10 }, () => ate(1));
    expect(is(ate(0.5), {}, one)).toBe("raised");
  });

  it("is told against the day before where that can be judged, else alone", () => {
    const then = (day: LooseDay | null) =>
      (of(ate(330), day)[0] as Signal).sentence.parameters["before"];
    expect(then(null)).toBeNull();
    expect(then(ate(380))).toBeCloseTo(95, 9);
  });

  it("is compared as grams where an energy is not known and one diet was fed", () => {
    const grams = (g: number) => ate(g, { kcalPerG: null });
    const [signal] = of(grams(200)) as Signal[];
    expect(signal).toMatchObject({
      raised: true,
      evidence: { eaten: 200, unit: "g" },
      sentence: { parameters: { unit: "g" } },
    });
    expect(is(grams(290))).toBe("within");
    // One day without a known energy makes all grams: half the grams at twice the energy.
    const rich = ate(200, { kcalPerG: 2 });
    expect(is(rich)).toBe("within");
    expect(is(rich, ate(400, { kcalPerG: null }))).toBe("raised");
    const fed = (d: (day: number) => string) => is(grams(200), {}, undefined, {}, animalFed(d));
    expect(fed((day) => (day === 20 ? "clam" : "formula"))).toBe("flag-habit-other-diet");
    expect(fed((day) => (day === 9 ? "clam" : "formula"))).toBe("flag-habit-other-diet");
    expect(fed((day) => (day === 8 ? "clam" : "formula"))).toBe("raised");
    // Known energies make another diet comparable.
    expect(
      is(
        ate(200),
        {},
        undefined,
        {},
        animalFed((day) => (day === 20 ? "clam" : "formula")),
      ),
    ).toBe("raised");
  });

  it("of blank refusals is not judged where the answer hangs on them", () => {
    expect(is({ offeredG: 400, blankG: 121 })).toBe("flag-refusals-unknown");
    expect(is({ offeredG: 400, blankG: 120 })).toBe("within");
    expect(is({ offeredG: 279, blankG: 100 })).toBe("raised");
  });

  it("of a doubted feed counts by its worse meaning", () => {
    expect(is({ offeredG: 400, blankG: 200, doubted: 1 })).toBe("raised");
    expect(is({ offeredG: 400, blankG: 200, doubted: 0 })).toBe("flag-refusals-unknown");
  });

  it("is not judged where it is switched off", () => {
    expect(of(ate(10), {}, undefined, { belowHabitPct: null })).toEqual([]);
  });
});
