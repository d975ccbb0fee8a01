import { describe, expect, it } from "vitest";
import { quantile } from "../../src/stats/descriptive/quantile.js";
import { adjustPValues } from "../../src/stats/hypothesis-tests/adjust-p-values.js";

/** Y. Benjamini and Y. Hochberg, J. R. Statist. Soc. B 57 (1995), 289-300: fifteen tests. */
const p = [
  0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719,
  0.6528, 0.759, 1,
];

describe("the fifteen p-values of 1995", () => {
  it("four are discoveries at 5 % where Bonferroni's rule finds three, as the paper says", () => {
    const bh = adjustPValues(p, "benjamini-hochberg");
    expect(bh.filter((v) => v! <= 0.05)).toHaveLength(4);
    expect(adjustPValues(p, "bonferroni").filter((v) => v! <= 0.05)).toHaveLength(3);
    const wanted = [0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.0638571, 0.0638571, 0.0645, 0.0765];
    wanted.forEach((v, i) => {
      expect(bh[i]).toBeCloseTo(v, 6);
    });
    const by = [0.0049773, 0.0099547, 0.0315232, 0.1182119];
    by.forEach((v, i) => {
      expect(adjustPValues(p, "benjamini-yekutieli")[i]).toBeCloseTo(v, 6);
    });
  });

  it("quantile types on a published-form series (values of R)", () => {
    const x = [2.1, 3.4, 1.9, 5.6, 4.4, 2.8, 3.9, 6.1, 2.5, 4.0];
    expect([6, 7, 8, 9].map((t) => quantile(x, 0.25, t as 6)!.toFixed(7))).toEqual([
      "2.4000000",
      "2.5750000",
      "2.4666667",
      "2.4750000",
    ]);
  });
});
