import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportionGrams } from "../../src/planning/apportion-grams.js";

describe("apportioning grams", () => {
  // Largest remainder: worked by hand; the textbook example of the method
  // (populations 53, 24, 23 of 100, ten seats: remainders .3, .4, .3).
  it.each([
    [100, [1, 1, 1], [34, 33, 33]],
    [10, [53, 24, 23], [5, 3, 2]],
    [7, [0, 1, 0], [0, 7, 0]],
    [0, [1, 2], [0, 0]],
    [5, [1, 1, 1, 1, 1, 1, 1], [1, 1, 1, 1, 1, 0, 0]],
  ])("%i g over %j is %j", (total, shares, grams) => {
    expect(apportionGrams(total, shares)).toEqual(grams);
  });

  it("adds up exactly, stays within one gram of the share, and never reverses an order", () => {
    const share = fc.oneof(
      fc.double({ min: 0, max: 1000, noNaN: true }),
      fc.integer({ min: 0, max: 9 }),
    );
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5000 }),
        fc.array(share, { minLength: 1, maxLength: 24 }),
        (total, shares) => {
          const sum = shares.reduce((a, b) => a + b, 0);
          fc.pre(sum > 1e-6);
          const grams = apportionGrams(total, shares);
          expect(grams.reduce((a, b) => a + b, 0)).toBe(total);
          grams.forEach((g, i) => {
            expect(Number.isInteger(g)).toBe(true);
            expect(Math.abs(g - (total * shares[i]!) / sum)).toBeLessThan(1 + 1e-9);
          });
          shares.forEach((s, i) => {
            shares.forEach((r, k) => {
              if (s > r) expect(grams[i]!).toBeGreaterThanOrEqual(grams[k]!);
            });
          });
        },
      ),
      { seed: 20260201, numRuns: 300 },
    );
  });

  it.each([
    [1.5, [1]],
    [-1, [1]],
    [5, [0, 0]],
    [5, [1, -1]],
    [5, [Number.NaN]],
    [5, []],
  ])("refuses %f g over %j", (total, shares) => {
    expect(() => apportionGrams(total, shares)).toThrow(/whole grams/);
  });

  it("refuses a share that is none though the others would do, and says what came", () => {
    for (const bad of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => apportionGrams(5, [10, bad])).toThrow(/whole grams/);
    expect(() => apportionGrams(5, [3, -1])).toThrow("5 g and shares 3, -1 came");
    expect(() => apportionGrams(5, [])).toThrow("5 g and shares (none) came");
    expect(() => apportionGrams(2 ** 60, [1])).toThrow(/whole grams/);
  });

  it("of nothing is nothing, whatever the shares are: all zero, or none", () => {
    expect(apportionGrams(0, [0, 0])).toEqual([0, 0]);
    expect(apportionGrams(0, [])).toEqual([]);
    expect(() => apportionGrams(0, [-1])).toThrow(/whole grams/);
  });
});
