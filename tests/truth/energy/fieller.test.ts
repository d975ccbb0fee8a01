import { describe, expect, it } from "vitest";
import { studentTQuantile } from "../../../src/stats/distributions/student-t.js";
import { ratioSet } from "../../../src/stats/hypothesis-tests/ratio-set.js";

/**
 * Fieller's limits against values computed independently in R 4.2 by inverting
 * the t test numerically (uniroot on (a - r b) / se(r) = +-t, tolerance 1e-14),
 * never by the formula. Data sets: `sleep` (Student 1908) and `cars` (Ezekiel
 * 1930) of R's `datasets`.
 */
describe("Fieller's limits", () => {
  it("of a total over an uncertain gain (a 5600, b 560, variances 112 and 625, 13 df)", () => {
    const set = ratioSet(
      { numerator: 5600, denominator: 560, numeratorVariance: 112, denominatorVariance: 625 },
      studentTQuantile(0.975, 13),
    );
    expect(set.kind).toBe("bounded");
    if (set.kind !== "bounded") return;
    expect(set.lower).toBeCloseTo(9.11952050737099, 10);
    expect(set.upper).toBeCloseTo(11.0682590244825, 10);
  });

  it("of correlated coefficients: minus intercept over slope of stopping distance on speed", () => {
    const set = ratioSet(
      {
        numerator: 17.5790948905109,
        denominator: 3.93240875912409,
        numeratorVariance: 45.6765135230788,
        denominatorVariance: 0.172650867565312,
        covariance: 2.6588233605058,
      },
      studentTQuantile(0.975, 48),
    );
    expect(set.kind).toBe("bounded");
    if (set.kind !== "bounded") return;
    expect(set.lower).toBeCloseTo(1.26876746586614, 9);
    expect(set.upper).toBeCloseTo(6.63858697498528, 9);
  });

  it("has two rays where the denominator may be zero: paired hours of extra sleep, drug 2 over drug 1", () => {
    const set = ratioSet(
      {
        numerator: 2.33,
        denominator: 0.75,
        numeratorVariance: 0.4009,
        denominatorVariance: 0.320055555555556,
        covariance: 0.284833333333333,
      },
      studentTQuantile(0.975, 9),
    );
    expect(set.kind).toBe("two rays");
    if (set.kind !== "two rays") return;
    expect(set.below).toBeCloseTo(-2.06219678138107, 8);
    expect(set.above).toBeCloseTo(1.5230049471909, 8);
  });

  it("by hand: 10 over 5 with variances 1 and 1/4 at t = 2 is 36/24 to 64/24", () => {
    const set = ratioSet(
      { numerator: 10, denominator: 5, numeratorVariance: 1, denominatorVariance: 0.25 },
      2,
    );
    expect(set).toEqual({ kind: "bounded", lower: 1.5, upper: 64 / 24 });
  });

  it("is the whole line where nothing can be said", () => {
    const parts = {
      numerator: 0.1,
      denominator: 0.1,
      numeratorVariance: 1,
      denominatorVariance: 1,
    };
    expect(ratioSet(parts, 2).kind).toBe("whole line");
  });

  it("shrinks to a / b scaled limits when the numerator is exact", () => {
    const set = ratioSet(
      { numerator: 10, denominator: 5, numeratorVariance: 0, denominatorVariance: 0.25 },
      2,
    );
    expect(set).toMatchObject({ kind: "bounded" });
    if (set.kind !== "bounded") return;
    expect(set.lower).toBeCloseTo(10 / 6, 12);
    expect(set.upper).toBeCloseTo(10 / 4, 12);
  });
});
