import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { unadjustedDifference } from "../../src/seasons/unadjusted-difference.js";

describe("the unadjusted difference", () => {
  // Student (1908), the sleep data; values of R 4.2.2 t.test and exact Hedges correction.
  const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
  const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

  it("is Welch's test on Student's sleep data", () => {
    const w = unadjustedDifference(first, second)!;
    expect(w.difference / w.se).toBeCloseTo(1.860813467, 8);
    expect(w.df).toBeCloseTo(17.77647352, 7);
    expect(w.p).toBeCloseTo(0.07939414, 8);
    expect(w.interval.lower).toBeCloseTo(-0.2054832, 6);
    expect(w.interval.upper).toBeCloseTo(3.3654832, 6);
  });

  it("has Hedges' g with the exact correction", () => {
    expect(unadjustedDifference(first, second)!.hedgesG).toBeCloseTo(0.79693524, 8);
  });

  it("has an interval that covers as it says: its ends leave 2.5 % on either side (noncentral t)", () => {
    // Shift 0.8, 10 and 10: ends computed with SciPy 1.17 (nct, brentq), times the correction.
    const a = [-1.5, -1, -0.5, 0, 0, 0, 0, 0.5, 1, 1.5];
    const g = unadjustedDifference(
      a,
      a.map((x) => x + 0.8),
    )!;
    expect(g.hedgesG).toBeCloseTo(0.8686951850860554, 9);
    expect(g.hedgesInterval!.lower).toBeCloseTo(-0.027508632640104842, 7);
    expect(g.hedgesInterval!.upper).toBeCloseTo(1.743326507182625, 7);
  });

  it("is the worked example of Borenstein et al. (2009), ch. 4: d 0.5970, g 0.5924", () => {
    // Means 103 and 100, standard deviations 5.5 and 4.5, 50 a group: half above, half below.
    const group = (mean: number, sd: number) =>
      Array.from({ length: 50 }, (_, i) => mean + (i % 2 ? 1 : -1) * sd * Math.sqrt(49 / 50));
    const found = unadjustedDifference(group(100, 4.5), group(103, 5.5))!;
    expect(found.difference).toBeCloseTo(3, 12);
    // The book corrects by 1 - 3/(4 x 98 - 1), the exact factor differs in the fifth digit.
    expect(Math.abs(found.hedgesG! - 0.5924)).toBeLessThan(5e-5 + 1e-5);
    // Its interval is the normal one, g -+ 1.96 sqrt(0.0411): 0.195 to 0.990.
    expect(Math.abs(found.hedgesInterval!.lower! - 0.195)).toBeLessThan(0.01);
    expect(Math.abs(found.hedgesInterval!.upper! - 0.99)).toBeLessThan(0.01);
  });

  it("changes sign when the groups change places, and nothing else", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 3, maxLength: 8 }),
        fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 3, maxLength: 8 }),
        (x, y) => {
          const there = unadjustedDifference(x, y);
          const back = unadjustedDifference(y, x);
          if (there === null || back === null) return there === back;
          return (
            Math.abs(there.difference + back.difference) < 1e-9 && Math.abs(there.p - back.p) < 1e-9
          );
        },
      ),
      { numRuns: 50, seed: 3 },
    );
  });

  it("is null where nothing varies or too few are there", () => {
    expect(unadjustedDifference([1], [2, 3])).toBeNull();
    expect(unadjustedDifference([1, 1], [1, 1])).toBeNull();
  });
});
