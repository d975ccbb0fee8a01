import { describe, expect, it } from "vitest";
import * as growth from "../../src/growth/index.js";

const ages = [5, 12, 19, 26, 33, 40];
const fit = growth.fitCurve(
  { ages, masses: [2400, 3010, 3720, 4480, 5270, 6060] },
  { curve: "gompertz" },
);

/** Called as a hurried person calls it: with a part of a fit, with nothing, with another result. */
const calls: Readonly<Record<string, (given: never) => unknown>> = {
  predictMass: (given) => growth.predictMass(given, 20),
  predictGain: (given) => growth.predictGain(given, 20),
  deriveGrowth: (given) => growth.deriveGrowth(given),
  relativeGainAt: (given) => growth.relativeGainAt(given, 20),
  maturityAt: (given) => growth.maturityAt(given, 20),
  ageAtMass: (given) => growth.ageAtMass(given, 4000),
  derivedQuantity: (given) => growth.derivedQuantity(given, "g", (_, p) => p[0]!, { name: "A" }),
  profileParameter: (given) => growth.profileParameter(given, {} as never),
  compareFits: (given) => growth.compareFits([given]),
  bootstrapCohort: (given) => growth.bootstrapCohort(given, { seed: 1, replicates: 20 }),
  calibrateCohort: (given) => growth.calibrateCohort(given, { seed: 1 }),
  cohortGains: (given) => growth.cohortGains(given, { from: 5, to: 15 }),
  cohortMeanCurve: (given) => growth.cohortMeanCurve(given, { at: [20] }),
  predictForNewAnimal: (given) =>
    growth.predictForNewAnimal(given, { ages: [3], masses: [980] }, { at: [10] }),
  predictForCohortAnimal: (given) => growth.predictForCohortAnimal(given, "a", { at: [10] }),
};

describe("a fit that is none", () => {
  it.each(Object.entries(calls))("is named by %s as the mistake it is", (name, call) => {
    const wrong = {
      "the value alone": fit.value,
      nothing: undefined,
      null: null,
      text: "fit",
      "another result": { ...fit, kind: "daily-gains" },
    };
    for (const [what, given] of Object.entries(wrong)) {
      expect(() => call(given as never), what).toThrow(
        expect.objectContaining({
          name: "UsageError",
          where: name,
          needed: expect.stringMatching(/^a whole result of fit(?:Curve|Cohort)$/),
        }),
      );
    }
  });

  it("and histories that are no list, or hold text for masses, are refused by name", () => {
    expect(() => growth.fitCohort({ ages, masses: ages } as never, { curve: "gompertz" })).toThrow(
      /needed a list of histories/,
    );
    const text = [{ animal: "a", ages, masses: ages.map(String) }];
    expect(() => growth.fitCohort(text as never, { curve: "gompertz" })).toThrow(
      /masses of a, but row 0 is the text "5"/,
    );
  });
});
