import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type MixIngredient, mixFormula } from "../../src/planning/mix-formula.js";

const of = (
  name: string,
  water: number,
  protein: number,
  fat: number,
  carb: number,
  kcal: number | null = null,
): MixIngredient => ({
  name,
  composition: {
    waterPct: water,
    proteinPct: protein,
    fatPct: fat,
    carbohydratePct: carb,
    fibrePct: 0,
    ashPct: null,
    energyKcalPerG: kcal,
  },
});
// Clam: USDA (see tests/truth/energy/food-composition.ts); oil and water are what they are.
const clam = of("clam", 79, 14.7, 1, 3.6);
const oil = of("oil", 0, 0, 100, 0, 9);
const water = of("water", 100, 0, 0, 0, 0);

describe("mixing a formula", () => {
  it("solves a mix that has one answer (worked by hand: two equations)", () => {
    // 20 % fat and 60 % of the mix clam at most is 0.6 + 100 x = 20 -> oil 19.4 %, water 20 %.
    const r = mixFormula(
      [{ ...clam, leastPct: 60, mostPct: 60 }, oil, water],
      { fatPct: 20 },
      { batchG: 1000 },
    ).value;
    expect(r.met).toBe(true);
    expect(r.ingredients.map((i) => [i.name, i.g])).toEqual([
      ["clam", 600],
      ["oil", 194],
      ["water", 206],
    ]);
  });

  it("mixes two foods to an energy (Pearson's square, a textbook method)", () => {
    // 1 kcal/g from 0.822 and 3.464 kcal/g: (1 - 0.822) / (3.464 - 0.822) = 6.737 % of the richer.
    const thin = of("thin", 80, 10, 3, 3, 0.822);
    const rich = of("rich", 58, 3, 36, 3, 3.464);
    const r = mixFormula([thin, rich], { energyKcalPerG: 1 }, { batchG: 10000 }).value;
    expect(r.ingredients[1]!.pct).toBeCloseTo(6.737, 1);
    expect(r.kcalPerG!).toBeCloseTo(1, 3);
  });

  it("says what cannot be met and how near the nearest mix comes, and gives no grams", () => {
    const r = mixFormula([clam, water], { fatPct: 7, proteinPct: [8, null] }, { batchG: 500 });
    expect(r.value.met).toBe(false);
    const fat = r.value.checks.find((c) => c.property === "fatPct")!;
    expect([fat.met, fat.got]).toEqual([false, 1]);
    expect(r.value.checks.find((c) => c.property === "proteinPct")!.met).toBe(true);
    expect(r.notices.map((n) => n.code)).toContain("mix-not-met");
    expect(r.value.ingredients).toEqual([]);
  });

  it("says when the limits on the ingredients contradict each other", () => {
    const r = mixFormula(
      [
        { ...clam, mostPct: 30 },
        { ...water, mostPct: 30 },
      ],
      { fatPct: 1 },
      { batchG: 500 },
    );
    expect(r.value.met).toBe(false);
    expect(r.value.ingredients).toEqual([]);
    expect(r.notices.map((n) => n.code)).toContain("mix-impossible");
  });

  it("leaves out what is not known, by name", () => {
    const unknown = {
      ...clam,
      name: "mystery",
      composition: { ...clam.composition, fatPct: null },
    };
    const r = mixFormula([unknown, oil, water], { fatPct: 7 }, { batchG: 100 });
    expect(r.basis).toMatchObject({ used: 2, leftOut: [{ count: 1 }] });
    expect(r.notices[0]).toMatchObject({
      code: "mix-ingredient-unknown",
      parameters: { ingredient: "mystery" },
    });
  });

  it("refuses no ingredients, no targets and batches that are no whole grams", () => {
    expect(() => mixFormula([], { fatPct: 7 }, { batchG: 100 })).toThrow(/no ingredient/);
    expect(() => mixFormula([clam], {}, { batchG: 100 })).toThrow(/no target/);
    expect(() => mixFormula([clam], { fatPct: 7 }, { batchG: 10.5 })).toThrow(/10.5 g/);
  });

  it("finds every mix that exists: targets taken from a mix are met, and grams add up", () => {
    const cream = of("cream", 58, 2.8, 36, 2.8, 3.464);
    const all = [clam, oil, water, cream];
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 4, maxLength: 4 }),
        (w) => {
          const total = w.reduce((a, b) => a + b, 0);
          fc.pre(total > 0);
          const mixed = (part: "proteinPct" | "fatPct" | "waterPct") =>
            all.reduce((s, ing, i) => s + (ing.composition[part]! * w[i]!) / total, 0);
          const target = {
            proteinPct: mixed("proteinPct"),
            fatPct: mixed("fatPct"),
            waterPct: mixed("waterPct"),
          };
          const r = mixFormula(all, target, { batchG: 2000 }).value;
          expect(r.ingredients.reduce((s, i) => s + i.g, 0)).toBe(2000);
          expect(r.met).toBe(true);
        },
      ),
      { seed: 20260203, numRuns: 200 },
    );
  });
});
