import { describe, expect, it } from "vitest";
import { energyOf } from "../../../src/rates/energy-of.js";
import {
  dryMatterShare,
  fourStepEnergy,
  gramsPer1000Kcal,
  kleiberRatio,
  metabolicSize,
  puppyGrowthEnergy,
  restingEnergy,
} from "../../../src/rates/nutrition-formulas.js";
import { convert } from "../../../src/units/quantity.js";
import { foods } from "./food-composition.js";

const composition = (f: (typeof foods)[keyof typeof foods]) => ({
  waterPct: f.water,
  proteinPct: f.protein,
  fatPct: f.fat,
  carbohydratePct: f.carbohydrate,
  fibrePct: null,
  ashPct: f.ash,
  energyKcalPerG: null,
});

describe("resting energy requirement", () => {
  // 70 W^0.75: Small Animal Clinical Nutrition, 5th ed., table 5-2 and Merck
  // manual (15 kg printed as 533.54); the other values by arithmetic.
  it.each([
    [2, 117.7255],
    [5, 234.0591],
    [10, 393.6389],
    [15, 533.5394],
  ])("of %f kg is %f kcal/d", (kg, kcal) => {
    expect(restingEnergy(kg)).toBeCloseTo(kcal, 3);
  });

  // 293 W^0.75 kJ/d, same table.
  it("is 293 kJ at one kilogram", () => {
    expect(convert(restingEnergy(1), "kcal", "kJ")).toBeCloseTo(293, 0);
  });

  it("refuses a mass of zero", () => {
    expect(() => restingEnergy(0)).toThrow(/above zero/);
    expect(() => restingEnergy(Number.NaN)).toThrow(/above zero/);
  });
});

describe("four-step prediction", () => {
  // NRC 2006 equations for dog and cat foods, as printed in Raw Diet References
  // 2019, p. 118; a food of P 30, F 15, CF 3, ash 7, water 8.
  const food = { proteinPct: 30, fatPct: 15, crudeFibrePct: 3, ashPct: 7, waterPct: 8 };

  it("for a dog", () => {
    const e = fourStepEnergy(food, "dog");
    expect(e.nitrogenFreeExtractPct).toBeCloseTo(37, 10);
    expect(e.grossKcalPer100g).toBeCloseTo(476, 8);
    expect(e.crudeFibreDryPct).toBeCloseTo(3.26087, 5);
    expect(e.digestibilityPct).toBeCloseTo(86.536957, 5);
    expect(e.digestibleKcalPer100g).toBeCloseTo(411.915913, 5);
    expect(e.metabolisableKcalPer100g).toBeCloseTo(380.715913, 5);
  });

  it("for a cat", () => {
    const e = fourStepEnergy(food, "cat");
    expect(e.digestibilityPct).toBeCloseTo(85.030435, 5);
    expect(e.digestibleKcalPer100g).toBeCloseTo(404.74487, 5);
    expect(e.metabolisableKcalPer100g).toBeCloseTo(381.64487, 5);
  });

  // Modified Atwater (355 IAC 6-2-9): 10 (3.5 CP + 8.5 fat + 3.5 NFE) kcal/kg.
  it("the modified factors give 362.0 kcal/100 g for the same food, carbohydrate by difference", () => {
    const e = energyOf(
      {
        waterPct: 8,
        proteinPct: 30,
        fatPct: 15,
        carbohydratePct: null,
        fibrePct: 3,
        ashPct: 7,
        energyKcalPerG: null,
      },
      "modified",
    );
    expect(e.carbohydratePct).toBeCloseTo(37, 10);
    expect(e.carbohydrateFrom).toBe("by difference");
    expect(e.kcalPerG.value! * 100).toBeCloseTo(362, 8);
  });
});

describe("growth of puppies", () => {
  // NRC 2006: 130 W^0.75 x 3.2 (e^(-0.87 p) - 0.1).
  it("needs 571.368 kcal/d at 2 of 20 kg and 1280.238 at 10 of 20 kg", () => {
    expect(puppyGrowthEnergy(2, 20)).toBeCloseTo(571.368, 3);
    expect(puppyGrowthEnergy(10, 20)).toBeCloseTo(1280.238, 3);
  });
});

describe("energy of milk and prey", () => {
  // Sea otter milk: 273.2 kcal/100 g (4/9/4) and 254.5 (modified), by arithmetic
  // from Jenness et al. 1981.
  it("sea otter milk", () => {
    const milk = composition(foods.seaOtterMilk);
    expect(energyOf(milk, "general").kcalPerG.value! * 100).toBeCloseTo(273.2, 1);
    expect(energyOf(milk, "modified").kcalPerG.value! * 100).toBeCloseTo(254.5, 1);
  });

  // Lang et al. 2005: about 403 and 488 kcal/100 g.
  it.each([foods.sealMilkAtBirth, foods.sealMilkDay7])("harbour seal milk, %j", (food) => {
    const kcal = energyOf(composition(food), "general").kcalPerG.value! * 100;
    expect(Math.abs(kcal / food.kcal - 1)).toBeLessThan(0.005);
  });

  // USDA energies with the fish and shellfish factors (Handbook 74, from
  // memory). Parts printed to 0.1 % and energies to a whole kcal leave up to
  // 0.5 + 0.05 x (4.27 + 9.02 + 4.11) = 1.4 kcal; they agree within 0.7.
  it.each(["herring", "squid", "clam"] as const)("%s as USDA prints it", (name) => {
    const food = foods[name];
    const kcal = energyOf(composition(food), "fish and shellfish").kcalPerG.value! * 100;
    expect(Math.abs(kcal - food.kcal)).toBeLessThan(0.7);
  });
});

describe("conversions", () => {
  // Dry matter: nutrient x 100 / (100 - moisture); textbook.
  it("as fed to dry matter and to 1000 kcal", () => {
    expect(dryMatterShare(3, 8)).toBeCloseTo(3.26087, 5);
    // Sea otter milk: 11.78 % protein of 38 % solids is 31 % of dry matter (Jenness).
    expect(dryMatterShare(38 * 0.31, 62)).toBeCloseTo(31, 10);
    expect(gramsPer1000Kcal(30, 3.62)).toBeCloseTo(82.8729, 4);
    expect(() => dryMatterShare(3, 100)).toThrow(/below 100/);
    expect(() => gramsPer1000Kcal(30, 0)).toThrow(/above zero/);
  });

  // 1 kcal = 4.184 kJ; Thometz et al. 2014: 2.29 and 7.41 MJ/d are 547 and 1771 kcal/d.
  it("joules", () => {
    expect(convert(2.29, "MJ", "kcal")).toBeCloseTo(547.32, 1);
    expect(convert(7.41, "MJ", "kcal")).toBeCloseTo(1771.03, 1);
  });
});

describe("Kleiber ratio", () => {
  // Bergh 1992 after Kleiber 1947 (from memory): 2 to 5 kg in 60 d, mid weight 3.5 kg.
  it("50 g/d at 3.5 kg is 19.539749", () => {
    expect(metabolicSize(3.5)).toBeCloseTo(2.558887, 6);
    expect(kleiberRatio(50, 3.5)).toBeCloseTo(19.539749, 6);
  });
});
