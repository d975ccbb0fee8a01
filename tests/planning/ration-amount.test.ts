import { describe, expect, it } from "vitest";
import { type RationTarget, rationAmounts } from "../../src/planning/ration-amount.js";
import type { SpeciesProfile } from "../../src/species/species-profile.js";

/** A made-up profile; the resting demand is 70 x W^0.75 (Kleiber 1961), 140 kcal at 2.52 kg. */
const band = (more: object) => ({ fromD: 0, toD: 60, ...more });
const share = band({ share: { range: [20, 40], source: "share source" } });
const demand = band({ timesResting: { range: [5, 7], source: "demand source" } });
const profile = (parts: Partial<Record<"intake" | "energyDemand", readonly object[]>>) =>
  ({ species: "grebbit", intake: [], energyDemand: [], ...parts }) as unknown as SpeciesProfile;
const of = (
  target: RationTarget,
  parts = {},
  orderedG: number | null = null,
  ageD: number | null = 20,
) => rationAmounts(target, 2, ageD, profile(parts), orderedG);
const byProfile: RationTarget = { kind: "profile" };
const resting = 70 * 2 ** 0.75;

describe("the amount of a day", () => {
  it("by the profile is the middle of its share and the low end of its demand", () => {
    expect(of(byProfile, { intake: [share], energyDemand: [demand] })).toMatchObject([
      {
        unit: "g",
        amount: 600,
        why: {
          code: "ration-from-share",
          parameters: { pct: 30, mass: 2000, source: "share source" },
        },
      },
      {
        unit: "kcal",
        amount: 5 * resting,
        why: {
          code: "ration-from-demand",
          parameters: { times: 5, kcal: 5 * resting, source: "demand source" },
        },
      },
    ]);
    expect(of(byProfile, { intake: [share] })).toMatchObject([{ unit: "g" }]);
    expect(of(byProfile, { energyDemand: [demand] })).toMatchObject([{ unit: "kcal" }]);
  });

  it("is none where the profile has nothing for the age", () => {
    expect(of(byProfile)).toMatchObject({
      code: "ration-no-profile",
      parameters: { species: "grebbit", age: 20 },
    });
    expect(of(byProfile, { intake: [share] }, null, 61)).toMatchObject({
      code: "ration-no-profile",
    });
  });

  it("is what is entered: a share of mass, or energy", () => {
    expect(of({ kind: "share of mass", pct: 25 })).toMatchObject([
      { unit: "g", amount: 500, why: { parameters: { pct: 25, mass: 2000, source: "entered" } } },
    ]);
    expect(of({ kind: "energy", kcalPerD: 700 })).toMatchObject([
      { unit: "kcal", amount: 700, why: { code: "ration-from-energy", parameters: { kcal: 700 } } },
    ]);
  });

  it("for a gain is maintenance and growth", () => {
    const target = {
      kind: "gain",
      gainGPerD: 50,
      maintenanceKcal: 200,
      growthKcalPerG: 4,
    } as const;
    const kcal = 200 * 2 ** 0.75 + 200;
    const [amount] = of(target) as readonly { unit: string; amount: number }[];
    expect(amount).toMatchObject({
      unit: "kcal",
      why: {
        code: "ration-from-gain",
        parameters: { gain: 50, maintenanceKcal: 200, growthKcalPerG: 4 },
      },
    });
    expect(amount!.amount).toBeCloseTo(kcal, 9);
  });

  it("by the plan is what is ordered, and none where nothing is", () => {
    expect(of({ kind: "plan" }, {}, 480)).toMatchObject([
      { unit: "g", amount: 480, why: { code: "ration-from-plan", parameters: { grams: 480 } } },
    ]);
    expect(of({ kind: "plan" }, {}, null)).toMatchObject({ code: "ration-no-plan" });
    expect(of({ kind: "plan" }, {}, 0)).toMatchObject({ code: "ration-no-plan" });
    expect(of({ kind: "plan" }, {}, Number.NaN)).toMatchObject({ code: "ration-no-plan" });
  });

  it("is refused where it is not above nothing, or no number", () => {
    for (const pct of [0, -3, Number.NaN, Number.POSITIVE_INFINITY])
      expect(of({ kind: "share of mass", pct })).toMatchObject({
        code: "ration-amount-not-positive",
        level: "problem",
        parameters: { unit: "g" },
      });
    expect(of({ kind: "energy", kcalPerD: 0 })).toMatchObject({
      parameters: { amount: 0, unit: "kcal" },
    });
    const losing = {
      kind: "gain",
      gainGPerD: -500,
      maintenanceKcal: 100,
      growthKcalPerG: 4,
    } as const;
    expect(of(losing)).toMatchObject({ code: "ration-amount-not-positive" });
  });
});
