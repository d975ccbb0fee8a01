import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { matrixFromRows } from "../../src/stats/linear-algebra/matrix.js";
import { fitGeneralisedLinearModel } from "../../src/stats/linear-model/generalised-linear-model.js";

const x = matrixFromRows([0, 0, 0, 0, 1, 1, 1, 1, 1].map((v) => [1, v]));

describe("generalised linear models", () => {
  it("with one two-level factor the fit is the two group means, whatever the law", () => {
    const counts = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 9, maxLength: 9 });
    fc.assert(
      fc.property(counts, (y) => {
        const mean = (v: number[]) => v.reduce((s, a) => s + a, 0) / v.length;
        const [a, b] = [mean(y.slice(0, 4)), mean(y.slice(4))];
        for (const family of ["poisson", "gamma", "negative-binomial"] as const) {
          const fit = fitGeneralisedLinearModel(x, y, family);
          expect(fit.fitted[0]).toBeCloseTo(a, 6);
          expect(fit.fitted[8]).toBeCloseTo(b, 6);
        }
        const shares = y.map((v) => v / 41);
        const fit = fitGeneralisedLinearModel(x, shares, "binomial", { weights: y.map(() => 41) });
        expect(fit.fitted[0]).toBeCloseTo(a / 41, 8);
      }),
      { seed: 20260200, numRuns: 40 },
    );
  });

  it("Poisson standard errors of group means by hand: 1 / sqrt(sum)", () => {
    const y = [3, 5, 2, 6, 9, 12, 7, 10, 8];
    const fit = fitGeneralisedLinearModel(x, y, "poisson");
    expect(fit.standardErrors[0]).toBeCloseTo(1 / Math.sqrt(16), 10);
    expect(fit.standardErrors[1]).toBeCloseTo(Math.sqrt(1 / 16 + 1 / 46), 10);
    expect(fit.converged).toBe(true);
  });

  it("counts no wider than Poisson: no negative binomial shape is invented", () => {
    const fit = fitGeneralisedLinearModel(x, [5, 5, 5, 5, 9, 9, 9, 9, 9], "negative-binomial");
    expect(fit.shape).toBeNull();
    expect(fit.fitted[0]).toBeCloseTo(5, 8);
  });

  it("separated shares are not reported as converged estimates with small errors", () => {
    const fit = fitGeneralisedLinearModel(x, [0, 0, 0, 0, 1, 1, 1, 1, 1], "binomial");
    const wide = fit.standardErrors.some((se) => se !== null && se > 100);
    expect(!fit.converged || wide).toBe(true);
    expect(() => fitGeneralisedLinearModel(x, [2, 0, 0, 0, 1, 1, 1, 1, 1], "binomial")).toThrow(
      /between 0 and 1/,
    );
  });
});
