import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  findMeanShift,
  fitBrokenLine,
  fitTwoLines,
} from "../../src/stats/linear-model/change-point.js";

describe("change points", () => {
  it("finds the bend of a line made with one, wherever it lies", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2.2, max: 7.8, noNaN: true }),
        fc.integer({ min: -5, max: 5 }),
        fc.integer({ min: 1, max: 6 }),
        (bend, slope, change) => {
          const x = Array.from({ length: 11 }, (_, i) => i);
          const fit = fitBrokenLine(
            x,
            x.map((v) => 3 + slope * v + change * Math.max(0, v - bend)),
          );
          expect(fit.at).toBeCloseTo(bend, 5);
          expect(fit.slopeAfter - fit.slopeBefore).toBeCloseTo(change, 5);
          expect(fit.atEnd).toBe(false);
        },
      ),
      { seed: 20260190, numRuns: 40 },
    );
  });

  it("two lines and a step, by hand", () => {
    const x = [0, 1, 2, 3, 4, 5];
    const fit = fitTwoLines(x, [0, 1, 2, 10, 9, 8]);
    expect(fit.after).toBe(2);
    expect(fit.rss).toBeCloseTo(0, 12);
    expect([fit.before.slope, fit.behind.slope].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([
      1, -1,
    ]);
    expect(findMeanShift([1, 1, 1, 5, 5])).toEqual({ lastIndex: 2, means: [1, 5], rss: 0 });
    expect(() => fitBrokenLine([1, 2, 3], [1, 2, 3])).toThrow(/four distinct/);
  });
});
