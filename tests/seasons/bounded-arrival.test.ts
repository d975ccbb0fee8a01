import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { boundedArrival } from "../../src/seasons/bounded-arrival.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { pairEstimate } from "../../src/seasons/pair-estimate.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";
import {
  rateOfDecisions,
  rateOfWeeklyLooks,
  simulatedArrivals,
  simulateStudy,
} from "./simulated-seasons.js";

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
    expect(boundedArrival(model, [-1, 1], 0.95)).toBeNull();
  });

  it("lies between no slope and a free one, is surer than the free one, and allows for what is left", () => {
    const animals = gains(apart, (s) => (s === 1 ? 34 : 40));
    const model = fitAdjustedModel(animals, ["s0", "s1"])!;
    const free = pairEstimate(model, "s0", "s1", 0.95);
    const bounded = boundedArrival(model, [-1, 1], 0.95)!;
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
    const same = boundedArrival(model, [1, -1], 0.95)!;
    expect(same.difference).toBeCloseTo(-bounded.difference, 9);
    expect(same.p).toBeCloseTo(bounded.p, 9);
  });

  it("lies with a belief about arrival between the worst case and the belief, and lets go of one that animals deny", () => {
    const animals = gains(apart, (s, age) => (s === 1 ? 34 : 40) + 0.4 * (age - 7.86));
    const model = fitAdjustedModel(animals, ["s0", "s1"])!;
    const worst = boundedArrival(model, [-1, 1], 0.95)!;
    const believed = (perDay: number, sd: number) =>
      boundedArrival(model, [-1, 1], 0.95, { perDay, sd, nurseries: 4, animals: 90 })!;
    const right = believed(0.0106, 0.0015);
    expect(worst.borrowed).toBeNull();
    expect(right.borrowed?.share).toBeGreaterThan(0.5);
    // Eight days at 0.4 g/d hide half of six grams; told of them, the six are found.
    expect(right.difference).toBeGreaterThan(-7.5);
    expect(right.difference).toBeLessThan(-4.5);
    expect(right.p).toBeLessThan(worst.p);
    expect(right.p < 0.05).toBe(right.lower > 0 || right.upper < 0);
    const wrong = believed(-0.08, 0.001);
    expect(wrong.borrowed?.share ?? 0).toBeLessThan(0.05);
    // A belief that hardly counts does not stretch the interval to its own difference.
    expect(wrong.lower).toBeGreaterThan(worst.lower - 0.6);
    expect(wrong.upper).toBeLessThan(worst.upper + 0.6);
    expect(wrong.p < 0.05).toBe(wrong.lower > 0 || wrong.upper < 0);
    expect(Math.abs(wrong.difference - worst.difference)).toBeLessThan(1);
  });

  it("is the generalised least squares of a normal slope where the belief is all that counts", () => {
    // By hand: V = s^2 I + t^2 x x', the contrast of season means by (X'V^-1 X)^-1 X'V^-1 y.
    const animals = gains(apart, (s) => (s === 1 ? 34 : 40)).map((a) => ({
      ...a,
      sex: "female" as const,
    }));
    const model = fitAdjustedModel(animals, ["s0", "s1"], ["arrival age"])!;
    const tau = 0.001;
    const got = boundedArrival(model, [-1, 1], 0.95, {
      perDay: 0,
      sd: tau,
      nurseries: 4,
      animals: 90,
    })!;
    const gain = model.response.reduce((a, b) => a + b, 0) / model.n;
    const x = model.design.map((row) => row[2]!);
    const of = (s: number) =>
      x.map((_, i) => (model.design[i]![s] === 1 ? i : -1)).filter((i) => i >= 0);
    const mean = (v: readonly number[], at: readonly number[]) =>
      at.reduce((t, i) => t + v[i]!, 0) / at.length;
    // Slope within seasons, drawn towards nothing by what it can be trusted.
    let sxx = 0;
    let sxy = 0;
    for (const s of [0, 1])
      for (const i of of(s)) {
        sxx += (x[i]! - mean(x, of(s))) ** 2;
        sxy += (x[i]! - mean(x, of(s))) * model.response[i]!;
      }
    const t2 = (tau * gain) ** 2;
    const shrunk = (sxy / sxx) * (t2 / (t2 + model.residualSd ** 2 / sxx));
    const adjusted = model.response.map((y, i) => y - shrunk * x[i]!);
    const informed = mean(adjusted, of(1)) - mean(adjusted, of(0));
    const worst = boundedArrival(model, [-1, 1], 0.95)!;
    const share = got.borrowed!.share;
    expect(got.difference).toBeCloseTo(share * informed + (1 - share) * worst.difference, 8);
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
    const a = boundedArrival(flat, [-1, 1], 0.95)!;
    const b = boundedArrival(steep, [-1, 1], 0.95)!;
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

  it("finds it more often still with prior files that tell what arrival does, at few false ones", () => {
    const arrivals = simulatedArrivals(0, 24, 15_476_001);
    const others = { arrivals, files: 4 };
    const plan = { ...base, animals: 9, seasons: 2, perDay: 0 };
    const without = rateOfDecisions({ ...plan, difference: -8 }, 150, 15_476_002);
    const told = rateOfDecisions({ ...plan, difference: -8 }, 150, 15_476_002, others);
    expect(told.differs).toBeGreaterThan(without.differs);
    // Three quarters, less two binomial standard errors of 150.
    expect(told.differs).toBeGreaterThan(0.75 - 2 * Math.sqrt((0.75 * 0.25) / 150));
    // With one season before it the first answer of the page is the same comparison.
    expect(told.asked).toBe(told.differs);
    const none = rateOfDecisions({ ...plan, difference: 0 }, 200, 15_476_003, others);
    expect(none.differs).toBeLessThan(0.06 + 3 * Math.sqrt((0.06 * 0.94) / 200));
  });

  it("shows both answers in words where they cannot be separated", () => {
    let shown = 0;
    for (let k = 0; k < 40 && shown === 0; k++) {
      const study = simulateStudy(
        { ...base, seasons: 2, difference: -8, perDay: 0 },
        15_474_000 + k,
      );
      const compared = compareSeasons(study, {
        species: "sea otter",
        window: { fromAgeD: 21, toAgeD: 84 },
        runs: 0,
        mixed: false,
      }).value;
      const { pairs } = compared;
      if (pairs[0]!.decision !== "cannot be separated") continue;
      const said = pairs[0]!.sentences.find((n) => n.code === "season-not-separated")!;
      expect(said.parameters["plainP"]).toBeLessThan(0.05);
      expect(said.parameters["p"]).toBeGreaterThanOrEqual(0.05);
      // The page's first answer says the same of the season against all before it.
      const { asked } = compared;
      expect(asked?.arrival).not.toBeNull();
      expect(asked?.sentences.map((n) => n.code)).toEqual([
        "season-asked-not-separated",
        "season-arrival-nearly-season",
      ]);
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
