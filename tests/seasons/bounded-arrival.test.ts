import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { boundedArrival } from "../../src/seasons/bounded-arrival.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { pairEstimate } from "../../src/seasons/pair-estimate.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";
import { rateOfDecisions, rateOfWeeklyLooks, simulateStudy } from "./simulated-seasons.js";

/** Small siblings of the bench "seasons-arrival"; seeds written down before the first run. */
const base = { animals: 7, seasons: 4, animalSd: 4.8, seasonSd: 0, laterD: 7, overD: 8 };

function gains(ages: readonly (readonly number[])[], gain: (s: number, age: number) => number) {
  return ages.flatMap((list, s) =>
    list.map(
      (age, i): SeasonGain => ({
        animalId: `${s}-${i}`,
        season: `s${s}`,
        sex: i % 2 === 0 ? "female" : "male",
        gain: gain(s, age) + [1.5, -0.5, 0.8, -1.9, 0.1, 1.1, -1.1][i % 7]!,
        se: 1,
        weighings: 30,
        arrivalMassG: 1900 + [40, -70, 15, 90, -30, -60, 20][(3 * i + s) % 7]!,
        arrivalAgeD: age,
        days: [],
      }),
    ),
  );
}

describe("seasons whose arrival nearly tells the season", () => {
  const apart = [
    [2, 3, 4, 5, 6, 3, 4],
    [10, 11, 12, 13, 14, 12, 11],
  ];

  it("leaves the free adjustment alone where arrivals overlap", () => {
    const mixed = [
      [2, 5, 8, 11, 14, 3, 9],
      [3, 6, 9, 12, 13, 4, 8],
    ];
    const model = fitAdjustedModel(
      gains(mixed, () => 40),
      ["s0", "s1"],
    )!;
    expect(boundedArrival(model, "s0", "s1", 0.95)).toBeNull();
  });

  it("lies between no slope and a free one, is surer than the free one, and allows for what is left", () => {
    const animals = gains(apart, (s) => (s === 1 ? 34 : 40));
    const model = fitAdjustedModel(animals, ["s0", "s1"])!;
    const free = pairEstimate(model, "s0", "s1", 0.95);
    const bounded = boundedArrival(model, "s0", "s1", 0.95)!;
    expect(bounded.inflation).toBeGreaterThan(1.5);
    expect(bounded.upper - bounded.lower).toBeLessThan(free.upper - free.lower);
    // A day later changes gain by at most 1 %: eight days by at most 8 % of the mean gain.
    expect(bounded.bias).toBeGreaterThan(0);
    expect(bounded.bias).toBeLessThanOrEqual(8.3 * 0.01 * 37.5);
    // Half the interval is never less than the textbook one beside the bias it allows for.
    const half = (bounded.upper - bounded.lower) / 2;
    expect(half).toBeGreaterThan(bounded.bias + 1.6 * bounded.se);
    // Interval and p are the same statement.
    expect(bounded.p < 0.05).toBe(bounded.lower > 0 || bounded.upper < 0);
    const same = boundedArrival(model, "s1", "s0", 0.95)!;
    expect(same.difference).toBeCloseTo(-bounded.difference, 9);
    expect(same.p).toBeCloseTo(bounded.p, 9);
  });

  it("moves by no more than its bias where the slope is at its bound", () => {
    // The same animals with and without a slope of 1 % a day: what moves is bias alone.
    const mean = 40;
    const flat = fitAdjustedModel(
      gains(apart, () => mean),
      ["s0", "s1"],
    )!;
    const steep = fitAdjustedModel(
      gains(apart, (_, age) => mean + 0.01 * mean * (age - 7.86)),
      ["s0", "s1"],
    )!;
    const a = boundedArrival(flat, "s0", "s1", 0.95)!;
    const b = boundedArrival(steep, "s0", "s1", 0.95)!;
    expect(Math.abs(b.difference - a.difference)).toBeLessThanOrEqual(1.02 * a.bias);
    expect(Math.abs(b.difference - a.difference)).toBeGreaterThan(0.9 * a.bias);
  });

  it("finds a fifth less gain more often than the free adjustment, and else says that both answers stand", () => {
    const r = rateOfDecisions({ ...base, difference: -8, perDay: 0 }, 150, 15_472_001);
    expect(r.differs).toBeGreaterThan(r.freely + 0.05);
    expect(r.differs + r.notSeparated).toBeGreaterThan(0.75);
  });

  it.each([0, 0.01, -0.01])(
    "names no difference where a day later changes gain by %d and nothing else",
    (perDay) => {
      const r = rateOfDecisions({ ...base, difference: 0, perDay }, 300, 15_473_001);
      // 6 % and 3 binomial standard errors of 300.
      expect(r.differs).toBeLessThan(0.06 + 3 * Math.sqrt((0.06 * 0.94) / 300));
    },
  );

  it("shows both answers in words where they cannot be separated", () => {
    let shown = 0;
    for (let k = 0; k < 40 && shown === 0; k++) {
      const study = simulateStudy(
        { ...base, seasons: 2, difference: -8, perDay: 0 },
        15_474_000 + k,
      );
      const { pairs } = compareSeasons(study, {
        species: "sea otter",
        window: { fromAgeD: 21, toAgeD: 84 },
        runs: 0,
        mixed: false,
      }).value;
      if (pairs[0]!.decision !== "cannot be separated") continue;
      const said = pairs[0]!.sentences.find((n) => n.code === "season-not-separated")!;
      expect(said.parameters["plainP"]).toBeLessThan(0.05);
      expect(said.parameters["p"]).toBeGreaterThanOrEqual(0.05);
      shown++;
    }
    expect(shown).toBe(1);
  });
});

describe("a season looked at each week", () => {
  it("costs nothing in false differences while animals are still to come", () => {
    const plan = { animals: 6, seasons: 2, animalSd: 9, seasonSd: 0, difference: 0 };
    const r = rateOfWeeklyLooks(plan, 120, 15_475_001);
    expect(r.looks).toBeGreaterThan(5);
    expect(r.any - r.last).toBeLessThan(0.04);
    expect(r.any).toBeLessThan(0.06 + 3 * Math.sqrt((0.06 * 0.94) / 120));
  });
});
