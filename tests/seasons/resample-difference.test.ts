import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { resampleDifference } from "../../src/seasons/resample-difference.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";

const made = (season: string, gains: readonly number[]): SeasonGain[] =>
  gains.map((gain, i) => ({
    animalId: `${season}${i}`,
    season,
    sex: i % 2 ? "male" : "female",
    gain,
    se: 1,
    weighings: 50,
    arrivalMassG: 1800,
    arrivalAgeD: 5,
    days: [],
  }));

describe("the check by reordering and resampling", () => {
  // The textbook case of exact permutation: groups fully apart, 4 and 4, 2 of 70 orders as extreme.
  const apart = [...made("a", [1, 2, 3, 4]), ...made("b", [11, 12, 13, 14])];

  it("nears the exact permutation p of 2/70 for groups that do not overlap", () => {
    const model = fitAdjustedModel(apart, ["a", "b"], [])!;
    const r = resampleDifference(model, "a", "b", { seed: 21, runs: 9999 });
    expect(Math.abs(r.permutationP - 2 / 70)).toBeLessThan(0.006);
  });

  it("gives a bootstrap interval near the t interval when the spread is regular", () => {
    const model = fitAdjustedModel(apart, ["a", "b"], [])!;
    const r = resampleDifference(model, "a", "b", { seed: 22, runs: 3999 });
    // t interval: 10 -/+ 2.446912 x 1.2909944 x sqrt(1/2) = 7.766 to 12.234.
    expect(r.bootstrap.lower).toBeGreaterThan(6);
    expect(r.bootstrap.lower).toBeLessThan(9);
    expect(r.bootstrap.upper).toBeGreaterThan(11);
    expect(r.bootstrap.upper).toBeLessThan(14);
  });

  it("is the same for the same seed and another for another", () => {
    const model = fitAdjustedModel(apart, ["a", "b"], [])!;
    const one = resampleDifference(model, "a", "b", { seed: 23, runs: 499 });
    expect(resampleDifference(model, "a", "b", { seed: 23, runs: 499 })).toEqual(one);
    expect(resampleDifference(model, "a", "b", { seed: 24, runs: 499 })).not.toEqual(one);
  });

  it("can be cancelled", () => {
    const model = fitAdjustedModel(apart, ["a", "b"], [])!;
    const signal = AbortSignal.abort();
    expect(() => resampleDifference(model, "a", "b", { signal })).toThrow();
  });
});
