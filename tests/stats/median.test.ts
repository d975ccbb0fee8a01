import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { median } from "../../src/stats/descriptive/median.js";
import { quantile } from "../../src/stats/descriptive/quantile.js";

describe("the median", () => {
  it("is the middle, the mean of the two middle ones, or nothing", () => {
    // The series of the modified z-score example of Iglewicz and Hoaglin (1993): median 2.45.
    expect(median([2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3])).toBeCloseTo(2.45, 12);
    expect(median([9, 1, 5])).toBe(5);
    expect(median([])).toBeNull();
  });

  it("is the half quantile of type 7, in any order of the values", () => {
    const values = fc.array(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), { minLength: 1 });
    fc.assert(
      fc.property(values, (x) => {
        expect(median(x)!).toBeCloseTo(quantile(x, 0.5)!, 6);
        expect(median([...x].reverse())).toBe(median(x));
      }),
    );
  });
});
