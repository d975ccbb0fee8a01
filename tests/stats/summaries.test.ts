import fc from "fast-check";
import { expect, describe as group, it } from "vitest";
import { autocorrelation } from "../../src/stats/descriptive/autocorrelation.js";
import { describe } from "../../src/stats/descriptive/describe.js";
import { type QuantileType, quantile } from "../../src/stats/descriptive/quantile.js";
import { matrixFromRows } from "../../src/stats/linear-algebra/matrix.js";
import { fitLinearModel } from "../../src/stats/linear-model/fit-linear-model.js";
import { predictLinearModel } from "../../src/stats/linear-model/predict-linear-model.js";

group("describe", () => {
  it("NIST StRD NumAcc4 in short: constant leading digits", () => {
    // The set is 10000000.2 followed by 500 pairs (.1, .3); certified sd 0.1, mean 10000000.2.
    const y = [10000000.2];
    for (let i = 0; i < 500; i++) y.push(10000000.1, 10000000.3);
    const d = describe(y);
    expect(d.mean! / 10000000.2 - 1).toBeCloseTo(0, 14);
    // The doubles nearest to these decimals differ from them by up to 1e-9.
    expect(d.sd).toBeCloseTo(0.1, 8);
    expect(autocorrelation(y)).toBeCloseTo(-0.999, 7);
  });

  it("leaves out what is not a number and says how much", () => {
    const d = describe([1, Number.NaN, null, 3, undefined, Number.POSITIVE_INFINITY, 100]);
    expect([d.n, d.missing, d.median, d.mad]).toEqual([3, 4, 3, 2]);
    expect(describe([]).mean).toBeNull();
    expect(describe([5]).sd).toBeNull();
  });

  it("moves with a shift and a change of unit", () => {
    const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 30 });
    fc.assert(
      fc.property(values, fc.integer({ min: -50, max: 50 }), (x, shift) => {
        const a = describe(x);
        const b = describe(x.map((v) => 8 * v + shift));
        expect(b.mean!).toBeCloseTo(8 * a.mean! + shift, 8);
        expect(b.sd!).toBeCloseTo(8 * a.sd!, 8);
        expect(b.mad!).toBe(8 * a.mad!);
        if (a.skewness !== null) expect(b.skewness!).toBeCloseTo(a.skewness, 8);
      }),
      { seed: 20260120 },
    );
  });
});

group("quantile", () => {
  it("the nine types on 1..10 at 0.31 and 0.5 (worked from Hyndman and Fan's definitions)", () => {
    const x = Array.from({ length: 10 }, (_, i) => i + 1);
    const at31 = [4, 4, 3, 3.1, 3.6, 3.41, 3.79, 3.5366666666666666, 3.5525];
    at31.forEach((q, i) => {
      expect(quantile(x, 0.31, (i + 1) as QuantileType)).toBeCloseTo(q, 12);
    });
    const half = [5, 5.5, 5, 5, 5.5, 5.5, 5.5, 5.5, 5.5];
    half.forEach((q, i) => {
      expect(quantile(x, 0.5, (i + 1) as QuantileType)).toBeCloseTo(q, 12);
    });
    expect(quantile([], 0.5)).toBeNull();
    expect(() => quantile([1], 95)).toThrow(/0.9 for the 90th/);
  });
});

group("linear model", () => {
  /** NIST StRD NoInt1: certified b 2.07438016528926, se 0.0165289256198347, R2 0.999365492298663. */
  const x = [60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70];
  const y = x.map((v) => v + 70);

  it("no constant: R2 about 0 (NIST StRD NoInt1)", () => {
    const m = fitLinearModel(matrixFromRows(x.map((v) => [v])), y);
    expect(m.intercept).toBe(false);
    expect(m.coefficients[0]).toBeCloseTo(2.07438016528926, 13);
    expect(m.standardErrors[0]).toBeCloseTo(0.0165289256198347, 14);
    expect(m.residualSd).toBeCloseTo(3.56753034006338, 12);
    expect(m.r2).toBeCloseTo(0.999365492298663, 14);
    expect(m.f!.value).toBeCloseTo(15750.25, 8);
  });

  it("weights count like repeated rows, except for the degrees of freedom", () => {
    const rows = [
      [1, 1],
      [1, 2],
      [1, 4],
      [1, 7],
    ];
    const z = [2, 3, 7, 9];
    const w = [1, 3, 2, 0];
    const weighted = fitLinearModel(matrixFromRows(rows), z, { weights: w });
    const index = [0, 1, 1, 1, 2, 2];
    const repeated = fitLinearModel(
      matrixFromRows(index.map((i) => rows[i]!)),
      index.map((i) => z[i]!),
    );
    expect(weighted.coefficients[1]).toBeCloseTo(repeated.coefficients[1]!, 12);
    expect(weighted.rss).toBeCloseTo(repeated.rss, 12);
    expect([weighted.n, weighted.dfResidual, repeated.dfResidual]).toEqual([3, 1, 4]);
    expect(weighted.residuals[3]).toBeCloseTo(
      9 - weighted.coefficients[0]! - 7 * weighted.coefficients[1]!,
      12,
    );
  });

  it("prediction intervals of a straight line match the textbook formulas", () => {
    const m = fitLinearModel(matrixFromRows([1, 2, 3, 4, 5].map((v) => [1, v])), [1, 3, 2, 5, 4]);
    const at = matrixFromRows([[1, 6]]);
    const [mean] = predictLinearModel(m, at);
    const [one] = predictLinearModel(m, at, { interval: "observation" });
    const s = Math.sqrt(3.6 / 3);
    const t = 3.182446305284263; // t(0.975, 3)
    expect(mean!.value).toBeCloseTo(5.4, 12);
    expect(mean!.se).toBeCloseTo(s * Math.sqrt(1 / 5 + 9 / 10), 12);
    expect(one!.upper).toBeCloseTo(5.4 + t * s * Math.sqrt(1 + 1 / 5 + 9 / 10), 10);
  });

  it("says what was not finite", () => {
    expect(() => fitLinearModel(matrixFromRows([[1], [2]]), [1, Number.NaN])).toThrow(
      /the responses.*row 1 is NaN/,
    );
  });
});
