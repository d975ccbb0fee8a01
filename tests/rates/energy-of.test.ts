import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type EnergyChoice, energyOf } from "../../src/rates/energy-of.js";

const blank = {
  waterPct: null,
  proteinPct: null,
  fatPct: null,
  carbohydratePct: null,
  fibrePct: null,
  ashPct: null,
  energyKcalPerG: null,
};
const food = { ...blank, waterPct: 80, proteinPct: 8, fatPct: 8, carbohydratePct: 3, ashPct: 1 };
const codes = (c: typeof blank, choice?: EnergyChoice) =>
  energyOf(c as never, choice).notices.map((n) => n.code);

describe("energy of a food", () => {
  it("takes the stated energy where there is one, and says so", () => {
    const e = energyOf({ ...food, energyKcalPerG: 1.21 });
    expect([e.kcalPerG.value, e.basis, e.factors]).toEqual([1.21, "stated", null]);
    const by = energyOf(food);
    expect(by.basis).toBe("general");
    expect(by.kcalPerG.value).toBeCloseTo(1.16, 12);
    expect(energyOf({ ...food, energyKcalPerG: 9 }, "general").kcalPerG.value).toBeCloseTo(
      1.16,
      12,
    );
  });

  it.each([
    [{ ...food, energyKcalPerG: 0 }, "energy-not-positive"],
    [{ ...food, energyKcalPerG: -1 }, "energy-not-positive"],
    [{ ...food, energyKcalPerG: 116 }, "energy-above-fat"],
    [{ ...food, fatPct: -2 }, "composition-part-impossible"],
    [{ ...food, waterPct: 180 }, "composition-part-impossible"],
    [{ ...food, proteinPct: 30 }, "composition-sum-too-high"],
    [
      { ...food, waterPct: 0, proteinPct: 0, fatPct: 0, carbohydratePct: 0, ashPct: 0 },
      "composition-sum-zero",
    ],
    [{ ...food, proteinPct: null }, "energy-part-missing"],
    [
      { ...blank, waterPct: 100, proteinPct: 0, fatPct: 0, carbohydratePct: 0 },
      "energy-not-positive",
    ],
    [{ ...food, proteinPct: Number.NaN }, "composition-part-impossible"],
  ])("names what is wrong and gives no number: %j", (c, code) => {
    expect(codes(c as never)).toEqual([code]);
    expect(energyOf(c as never).kcalPerG.value).toBeNull();
    expect(energyOf(c as never).kcalPerG.why?.code).toBe(code);
  });

  it("says how much may be missing where carbohydrate is not known", () => {
    const e = energyOf({ ...blank, proteinPct: 16, fatPct: 14, waterPct: 65 });
    expect(e.carbohydrateFrom).toBe("not known");
    expect(e.kcalPerG.value).toBeCloseTo(1.9, 12);
    expect(e.notices[0]?.parameters["missing"]).toBeCloseTo(0.2, 12);
  });

  it("counts a difference below zero as none (assays of one food may add up to 104 %)", () => {
    const e = energyOf({
      ...blank,
      waterPct: 71.52,
      proteinPct: 16.39,
      fatPct: 13.88,
      ashPct: 2.4,
    });
    expect(e.carbohydratePct).toBe(0);
    expect(e.notices).toEqual([]);
  });

  it("is a finite positive number or has a reason, whatever comes", () => {
    const part = fc.option(fc.double({ min: -5, max: 130 }), { nil: null });
    fc.assert(
      fc.property(
        fc.record({
          waterPct: part,
          proteinPct: part,
          fatPct: part,
          carbohydratePct: part,
          fibrePct: part,
          ashPct: part,
          energyKcalPerG: part,
        }),
        fc.constantFrom<EnergyChoice>("stated", "general", "modified", "stated, else general"),
        (c, choice) => {
          const { kcalPerG } = energyOf(c, choice);
          if (kcalPerG.value === null) expect(kcalPerG.why).toBeDefined();
          else expect(kcalPerG.value > 0 && kcalPerG.value < 10).toBe(true);
        },
      ),
      { seed: 20260102, numRuns: 500 },
    );
  });
});
