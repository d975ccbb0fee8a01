import { describe, expect, it } from "vitest";
import { controlChartConstants } from "../../../src/stats/sequential/control-chart-constants.js";
import { cusumRunLength, twoSidedCusumRunLength } from "../../../src/stats/sequential/cusum.js";
import { ewmaRunLength } from "../../../src/stats/sequential/ewma.js";
import { readReference } from "../reference-folder.js";

/** Run lengths of the reference folder (R 4.2.2, two quadrature orders agree): 1e-8. */
interface Reference {
  cusum: {
    k: number;
    h: number;
    mu: number;
    arl_one_sided: number;
    arl_two_sided: number;
    fir_one_sided_s0_half_h: number;
  }[];
  ewma_asymptotic_limits: { lambda: number; L: number; mu: number; arl: number }[];
  constants: { n: number; d2: number; d3: number; c4: number }[];
}

/**
 * Here the reference's linear solver gave up on the far side (run length 1.6e11) and
 * counted it as infinite; 34-digit arithmetic (mpmath 1.3.0) gives this value.
 */
const corrected = new Map([["1|8|0.5", 18965.725331060097]]);

describe("control charts of the reference folder", () => {
  const reference = readReference<Reference>("values/control_charts.json");
  const worst = (pairs: [number | null, number][]) =>
    Math.max(...pairs.map(([got, wanted]) => Math.abs((got ?? Number.NaN) / wanted - 1)));

  it("cumulative sums, with and without head start", () => {
    const { cusum } = reference!;
    expect(cusum.length).toBe(143);
    expect(
      worst(
        cusum.flatMap((c): [number | null, number][] => {
          const settings = { allowance: c.k, limit: c.h };
          return [
            [cusumRunLength(settings, c.mu), c.arl_one_sided],
            [
              twoSidedCusumRunLength(settings, c.mu),
              corrected.get(`${c.k}|${c.h}|${c.mu}`) ?? c.arl_two_sided,
            ],
            [cusumRunLength({ ...settings, start: c.h / 2 }, c.mu), c.fir_one_sided_s0_half_h],
          ];
        }),
      ),
    ).toBeLessThan(1e-8);
  });

  it("moving averages", () => {
    const { ewma_asymptotic_limits: cases } = reference!;
    expect(cases.length).toBe(175);
    expect(
      worst(cases.map((c) => [ewmaRunLength({ weight: c.lambda, width: c.L }, c.mu), c.arl])),
    ).toBeLessThan(1e-8);
  });

  it("constants", () => {
    const { constants } = reference!;
    expect(
      worst(
        constants.flatMap((c): [number, number][] => {
          const k = controlChartConstants(c.n);
          return [
            [k.d2, c.d2],
            [k.d3, c.d3],
            [k.c4, c.c4],
          ];
        }),
      ),
      // The reference's d2 and d3 come from a studentised range good to about 1e-7 for n > 12.
    ).toBeLessThan(2e-7);
  });
});
