import { describe, expect, it } from "vitest";
import { residualFeedIntake } from "../../../src/rates/residual-feed-intake.js";

/**
 * Ten made-up animals (intake g/d, gain g/d, first and last mass kg), fitted in R
 * 4.2 as lm(intake ~ gain + mid^0.75). Definition: Koch et al. 1963, J Anim Sci
 * 22:486.
 */
const animals: readonly (readonly [number, number, number, number, number])[] = [
  // intake, gain, first, last, residual intake in R
  [620, 58, 2.1, 3.8, -2.61503299059325],
  [585, 52, 1.9, 3.4, 8.66684509945519],
  [700, 70, 2.4, 4.5, 1.03970445119468],
  [655, 61, 2.2, 4.0, 9.64664073246954],
  [540, 44, 1.8, 3.1, -1.84893914928363],
  [610, 57, 2.0, 3.7, 1.94563773297912],
  [690, 63, 2.5, 4.4, -3.75930459702682],
  [575, 55, 1.9, 3.5, -10.6118194038189],
  [640, 60, 2.2, 4.0, -4.61036056013353],
  [605, 50, 2.1, 3.6, 2.14662868475763],
];
const rows = animals.map(([intakePerD, gainGPerD, w0, w1], i) => ({
  animalId: `A${i + 1}`,
  intakePerD,
  gainGPerD,
  midMassKg: (w0 + w1) / 2,
}));

describe("residual feed intake", () => {
  const fitted = residualFeedIntake(rows, { minimumAnimals: 10, unit: "g/d" }).value!;

  it("agrees with R", () => {
    const b = fitted.coefficients.map((c) => c.value!);
    expect(b[0]).toBeCloseTo(38.352117, 5);
    expect(b[1]).toBeCloseTo(0.742999, 5);
    expect(b[2]).toBeCloseTo(240.417674, 5);
    expect(fitted.r2).toBeCloseTo(0.985306, 6);
    fitted.animals.forEach((a, i) => {
      expect(a.residualIntake).toBeCloseTo(animals[i]![4], 8);
    });
  });

  it("adds up to zero and is uncorrelated with gain and size, as residual gain is with intake and size", () => {
    const size = rows.map((r) => r.midMassKg ** 0.75);
    const dot = (a: readonly number[], b: readonly number[]) =>
      a.reduce((s, v, i) => s + v * b[i]!, 0);
    const ones = rows.map(() => 1);
    const rfi = fitted.animals.map((a) => a.residualIntake);
    const rg = fitted.animals.map((a) => a.residualGain);
    for (const x of [ones, size, rows.map((r) => r.gainGPerD)])
      expect(dot(rfi, x)).toBeCloseTo(0, 7);
    for (const x of [ones, size, rows.map((r) => r.intakePerD)])
      expect(dot(rg, x)).toBeCloseTo(0, 7);
  });

  it("asks for 15 animals, and leaves out what is not known", () => {
    const few = residualFeedIntake(rows);
    expect(few.value).toBeNull();
    expect(few.notices.map((n) => n.code)).toEqual(["efficiency-few-animals"]);
    const holes = [...rows, { animalId: "X", intakePerD: Number.NaN, gainGPerD: 1, midMassKg: 2 }];
    expect(residualFeedIntake(holes, { minimumAnimals: 10 }).basis.leftOut[0]?.count).toBe(1);
  });

  it("says when gain and size cannot be told apart", () => {
    const alike = rows.map((r) => ({ ...r, midMassKg: 3 }));
    const r = residualFeedIntake(alike, { minimumAnimals: 10 });
    expect([r.value, r.notices[0]?.code]).toEqual([null, "efficiency-not-separable"]);
  });
});
