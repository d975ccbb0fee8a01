import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { measuredLevelRates } from "../../src/flags/budget/measured-level-rates.js";
import { measuredRuleRates } from "../../src/flags/budget/measured-rule-rates.js";
import { findFlags } from "../../src/flags/find-flags.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries } from "../../src/series/animal-series.js";
import { addDays } from "../../src/units/calendar.js";
import { ordersFrom } from "../series/plan-row.js";
import { everyThreeHours, observed, plan } from "./invented-feeds.js";
import { healthyStudy, inventedSeries, inventedStudy, signsFrom } from "./invented-study.js";

/** What a keeper sees: one list a day, what named whom, and what an acknowledgement silences. */
const start = "2031-03-25";
const base = inventedSeries({
  id: "A",
  birth: "2031-03-05",
  firstAge: 5,
  masses: Array.from({ length: 40 }, (_, i) => 1900 * Math.exp(0.01 * i)),
});
const warm = (animal: AnimalSeries, temperatures: readonly (readonly [string, number])[]) => ({
  ...animal,
  signs: signsFrom(
    temperatures.map(([day, value]) =>
      observed(
        "A",
        animal.daily.find((d) => d.feedingDay === day)!.at,
        "temperature",
        String(value),
      ),
    ),
  ),
});
const seen = { animalId: "A", on: start, by: "vet", note: "seen" };
const replay = (animal: AnimalSeries, acknowledgements = [seen]) =>
  replayFlags(inventedStudy([animal]), {
    from: start,
    to: addDays(start, 8),
    phaseOn: () => "milk",
    acknowledgements,
  }).days;

describe("acknowledging", () => {
  // 38.8 degC is 0.5 above 38.1 + 0.2: strength 1.5. Half as large again is 2.25: 39.55 degC.
  const next = (value: number) =>
    replay(
      warm(base, [
        [start, 38.8],
        [addDays(start, 1), value],
      ]),
    )[1]!.animals[0]!.episode!;
  it("stays silent below a deviation half as large again, and not from there on", () => {
    expect(next(39.5).acknowledged?.note).toBe("seen");
    expect(next(39.5).reopened).toEqual([]);
    expect(next(39.6).acknowledged).toBeNull();
    expect(next(39.6).reopened).toEqual([{ on: addDays(start, 1), why: "half as large again" }]);
  });

  it("never silences a new signal, and never takes the animal off the list", () => {
    const refusing = everyThreeHours(base, (d) => ({
      offeredG: 60,
      refusedG: d === addDays(start, 1) ? 55 : 2,
    }));
    const days = replay(
      warm({ ...refusing, orders: ordersFrom([plan("A", base.daily[0]!.at)]) }, [
        [start, 38.8],
        [addDays(start, 1), 38.8],
      ]),
    );
    expect(days[1]!.animals[0]!.episode!.acknowledged).not.toBeNull();
    expect(days[1]!.animals[0]!.status).toBe("flagged");
    const third = days[2]!.animals[0]!.episode!;
    expect(third.reopened).toEqual([{ on: addDays(start, 2), why: "new signal" }]);
  });
});

describe("one list a day", () => {
  it("holds one entry for one episode, with the day it opened and the day it closed", () => {
    const days = replay(
      warm(base, [
        [start, 39],
        [addDays(start, 2), 39],
      ]),
      [],
    );
    // Quiet from the third day after: closed after three days without anything raised.
    const opened = days.slice(0, 5);
    for (const d of opened) {
      expect(d.open).toHaveLength(1);
      expect(d.open[0]!.openedOn).toBe(start);
    }
    expect(days[5]!.open).toEqual([]);
    expect(days[5]!.closed).toMatchObject([
      { openedOn: start, closedOn: addDays(start, 5), openedBy: "rule" },
    ]);
    expect(days.flatMap((d) => d.closed)).toHaveLength(1);
  });

  it("names every animal in care once, whatever is raised, and its counts add up", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), (seed) => {
        const healthy = healthyStudy(6, 25, seed);
        const animals = healthy.animals.map((a, i) =>
          everyThreeHours(a, (d, k) =>
            (Number(d.slice(8)) + k + i) % 9 === 0
              ? null
              : { offeredG: 60, refusedG: 10 * (i % 5) },
          ),
        );
        for (const day of replayFlags({ ...healthy, animals }).days) {
          const ids = day.animals.map((a) => a.animalId);
          expect(new Set(ids).size).toBe(ids.length);
          const c = day.counts;
          expect(c.flagged + c.notFlagged + c.notJudged).toBe(ids.length);
          expect(new Set(day.open.map((e) => e.animalId)).size).toBe(day.open.length);
          // Every flagged animal is named by weighings, by danger, or by practice alone.
          expect(c.byWeighings + c.byDanger + c.byPracticeOnly).toBeGreaterThanOrEqual(c.flagged);
          expect(Math.max(c.byWeighings, c.byDanger) + c.byPracticeOnly).toBeLessThanOrEqual(
            c.flagged,
          );
        }
      }),
      { numRuns: 8, seed: 20311126 },
    );
  });

  it("tells apart what named an animal", () => {
    const hot = warm(base, [[start, 39]]);
    const refusing = {
      ...everyThreeHours({ ...base, animal: { ...base.animal, animalId: "B" } }, (d) => ({
        offeredG: 60,
        refusedG: d === addDays(start, -1) ? 55 : 2,
      })),
    };
    const { counts } = replayFlags(inventedStudy([hot, refusing]), {
      from: start,
      to: start,
      phaseOn: () => "milk",
    }).days[0]!;
    expect(counts).toMatchObject({ flagged: 2, byWeighings: 0, byDanger: 1, byPracticeOnly: 1 });
  });
});

describe("what is said of the rules outside the budget", () => {
  const notices = (limits = {}) =>
    findFlags(inventedStudy([base]), { onDay: start, limits }).notices.filter((n) =>
      n.code.startsWith("flags-outside-budget"),
    );
  it("is the measured rate, from the file the bench wrote", () => {
    const full = measuredRuleRates.worlds.find((w) => w.pages === "full")!;
    expect(full.animals).toBeGreaterThanOrEqual(175);
    const [told] = notices();
    expect(told!.parameters["practice"]).toBe(full.practice.per100Weeks);
    expect(told!.parameters["list"]).toBe(full.list.per100Weeks);
    expect(noticeText(told!)).toMatch(/common practice/);
  });

  it("says how often the levels named healthy animals, from the file their bench wrote", () => {
    const told = findFlags(inventedStudy([base]), { onDay: start }).notices.find(
      (n) => n.code === "levels-measured",
    )!;
    const [full, tired] = measuredLevelRates.worlds;
    expect(told.parameters).toMatchObject({
      danger: full!.dangerPer100Weeks,
      tiredDanger: tired!.dangerPer100Weeks,
    });
    // What the levels were made for: 1 and 3 in 100 weeks, a tenth of pages, every planted danger.
    expect(full!.dangerPer100Weeks).toBeLessThanOrEqual(1);
    expect(tired!.dangerPer100Weeks).toBeLessThanOrEqual(3);
    for (const w of measuredLevelRates.worlds) {
      expect(w.measureFirstPct).toBeLessThanOrEqual(10);
      expect(w.found).toBe(w.planted);
      expect(w.planted).toBeGreaterThanOrEqual(200);
    }
  });

  it("says that it was measured at other limits where they were changed", () => {
    expect(notices()).toHaveLength(1);
    expect(notices({ refusedPct: 20 }).map((n) => n.code)).toEqual([
      "flags-outside-budget",
      "flags-outside-budget-other-limits",
    ]);
  });
});

describe("rules of practice on healthy, fully written records", () => {
  it("name few healthy animals (small sibling of the bench flags-rules)", () => {
    const healthy = healthyStudy(20, 60, 20311127);
    let state = 7;
    const noise = () => {
      state = (state * 48271) % 2147483647;
      return 1 + 0.1 * (state / 2147483647 - 0.5);
    };
    const animals = healthy.animals.map((a) => ({
      ...everyThreeHours(a, () => ({
        offeredG: 70,
        refusedG: Math.round(70 * (1 - 0.86 * noise())),
      })),
      orders: ordersFrom([plan(a.animal.animalId, a.daily[0]!.at - 86_400_000, { gPerFeed: 70 })]),
    }));
    const days = replayFlags({ ...healthy, animals }, { phaseOn: () => "milk" }).days;
    const open = new Map<string, string>();
    let openings = 0;
    let animalDays = 0;
    for (const d of days)
      for (const a of d.animals) {
        animalDays++;
        if (!a.raised.some((s) => s.class === "practice")) continue;
        const last = open.get(a.animalId);
        if (last === undefined || last < addDays(d.onDay, -3)) openings++;
        open.set(a.animalId, d.onDay);
      }
    // 1 in 100 weeks would be 1.7 in these 170; 5 or more have a chance of 3 %.
    expect((animalDays / 7) * 0.01).toBeGreaterThan(1.5);
    expect(openings).toBeLessThan(5);
  });
});
