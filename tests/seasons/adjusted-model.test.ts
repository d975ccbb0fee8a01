import { describe, expect, it } from "vitest";
import { contrast, fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";
import { slopeCheck } from "../../src/seasons/slope-check.js";
import { anorexia } from "../truth/anorexia/weights.js";

/** The weights put in the place of arrival mass (in kg) and gain: the algebra is the same. */
const animals: SeasonGain[] = anorexia.map((a, i) => ({
  animalId: `p${i}`,
  season: a.therapy,
  sex: "female",
  gain: a.after,
  se: null,
  weighings: 2,
  arrivalMassG: 1000 * a.before,
  arrivalAgeD: 0,
  days: [],
}));
const therapies = ["CBT", "Cont", "FT"];

describe("the adjusted model", () => {
  const model = fitAdjustedModel(animals, therapies, ["arrival mass"])!;

  it("gives the adjusted means of R (lm, emmeans) for the anorexia weights", () => {
    // Postwt ~ Prewt + Treat: adjusted means at 82.408333 lb and their standard errors.
    expect(model.at.arrivalMassG / 1000).toBeCloseTo(82.408333, 6);
    expect(model.adjustedMeans[0]).toBeCloseTo(85.574328, 6);
    expect(model.adjustedMeans[1]).toBeCloseTo(81.477263, 6);
    expect(model.adjustedMeans[2]).toBeCloseTo(90.137391, 6);
    const se = (i: number) => model.residualSd * Math.sqrt(model.unscaled[i]![i]!);
    expect(se(0)).toBeCloseTo(1.296609, 6);
    expect(se(1)).toBeCloseTo(1.375385, 6);
    expect(se(2)).toBeCloseTo(1.697624, 6);
    expect(model.residualSd).toBeCloseTo(6.978183039174997, 9);
    expect(model.df).toBe(68);
    expect(model.coefficients[3]).toBeCloseTo(0.43446115036090344, 9);
  });

  it("gives the contrasts of R's coefficients", () => {
    const control = contrast(model, "CBT", "Cont");
    expect(control.difference).toBeCloseTo(-4.097065528072901, 9);
    expect(control.se).toBeCloseTo(1.893492606966926, 9);
    const family = contrast(model, "CBT", "FT");
    expect(family.difference).toBeCloseTo(4.563062652918794, 9);
    expect(family.se).toBeCloseTo(2.1333359226431114, 9);
  });

  it("finds that the slopes differ (R: F 5.4112308 on 2 and 66, p .0066656)", () => {
    const check = slopeCheck(animals, therapies, model)!;
    expect(check.f).toBeCloseTo(5.4112308012254235, 8);
    expect([check.df1, check.df2]).toEqual([2, 66]);
    expect(check.p).toBeCloseTo(0.0066656, 7);
    expect(check.slopes[0]!.perKg).toBeCloseTo(0.8479816205782378, 9);
  });

  it("takes up adjustments only while six degrees of freedom remain, whatever the gains", () => {
    const few = animals.filter((a) => a.season !== "CBT").slice(0, 9);
    const small = [
      ...few.slice(0, 5).map((a) => ({ ...a, season: "Cont" })),
      ...few.slice(5).map((a) => ({ ...a, season: "FT" })),
    ];
    const fit = fitAdjustedModel(small, ["Cont", "FT"])!;
    expect(fit.used).toEqual(["arrival mass"]);
    expect(fit.df).toBe(6);
    expect(fit.dropped.map((d) => d.why)).toEqual(["too few animals", "too few animals"]);
  });

  it("drops what is the same in all, unknown in some, or follows from the others", () => {
    const fit = fitAdjustedModel(animals, therapies)!;
    expect(fit.dropped).toEqual([
      { adjustment: "arrival age", why: "the same in all animals" },
      { adjustment: "sex", why: "the same in all animals" },
    ]);
    const odd = animals.map((a, i) => ({
      ...a,
      sex: i === 0 ? ("unknown" as const) : a.sex,
      arrivalAgeD: 2 + a.arrivalMassG / 50,
    }));
    expect(fitAdjustedModel(odd, therapies)!.dropped).toEqual([
      { adjustment: "arrival age", why: "follows from the others" },
      { adjustment: "sex", why: "unknown in some animal" },
    ]);
  });

  it("is null, not a crash, without freedom", () => {
    expect(fitAdjustedModel(animals.slice(0, 1), ["CBT"])).toBeNull();
    expect(fitAdjustedModel(animals.slice(0, 5), ["CBT", "1999"])).toBeNull();
  });
});
