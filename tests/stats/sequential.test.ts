import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { gaussLegendre } from "../../src/stats/numeric/gauss-legendre.js";
import { controlChartConstants } from "../../src/stats/sequential/control-chart-constants.js";
import {
  cusumChart,
  cusumLimitFor,
  cusumRunLength,
  twoSidedCusumRunLength,
} from "../../src/stats/sequential/cusum.js";
import { ewmaChart, ewmaRunLength } from "../../src/stats/sequential/ewma.js";
import { clippedNormalIncrement } from "../../src/stats/sequential/increment-law.js";

describe("run lengths", () => {
  it("as printed: Montgomery's tables (CUSUM) and Lucas and Saccucci 1990 (EWMA), from memory", () => {
    const cusum = (limit: number, shift: number) =>
      twoSidedCusumRunLength({ allowance: 0.5, limit }, shift);
    expect([0, 0.5, 1, 2].map((s) => Number(cusum(4, s).toPrecision(3)))).toEqual([
      168, 26.6, 8.38, 3.34,
    ]);
    expect([0, 0.5, 1, 2].map((s) => Number(cusum(5, s).toPrecision(3)))).toEqual([
      465, 38, 10.4, 4.01,
    ]);
    const ewma = [0, 0.5, 1, 2].map((s) => ewmaRunLength({ weight: 0.1, width: 2.814 }, s));
    expect(ewma.map((v) => Number(v.toPrecision(3)))).toEqual([500, 31.3, 10.3, 4.36]);
  });

  it("a moving average of weight 1 is Shewhart's chart: 1 / P(|z| > 3)", () => {
    expect(ewmaRunLength({ weight: 1, width: 3 }, 0)).toBeCloseTo(370.3983473449564, 6);
  });

  it("a head start shortens the run when the mean is off and costs little when it is not", () => {
    const plain = { allowance: 0.5, limit: 5 };
    expect(cusumRunLength({ ...plain, start: 2.5 }, 1)).toBeCloseTo(6.348, 3);
    expect(cusumRunLength({ ...plain, start: 2.5 }, 0)).toBeCloseTo(895.83, 2);
  });

  it("the limit for a wished run length gives it back", () => {
    const limit = cusumLimitFor(0.5, 370);
    expect(limit).toBeCloseTo(4.774, 3);
    expect(twoSidedCusumRunLength({ allowance: 0.5, limit })).toBeCloseTo(370, 5);
  });

  it("observations cut off at a limit: agrees with simulation", () => {
    const settings = { allowance: 0.5, limit: 3 };
    const clipped = cusumRunLength(settings, 1, clippedNormalIncrement(2, 1));
    expect(clipped).toBeGreaterThan(cusumRunLength(settings, 1));
    const random = seededRandom(20260140);
    const runs = 40000;
    let sum = 0;
    let squares = 0;
    for (let r = 0; r < runs; r++) {
      let s = 0;
      let length = 0;
      while (s <= 3) {
        const x = Math.max(-2, Math.min(2, random.normal() + 1));
        s = Math.max(0, s + x - 0.5);
        length++;
      }
      sum += length;
      squares += length * length;
    }
    const mean = sum / runs;
    const se = Math.sqrt((squares / runs - mean * mean) / runs);
    expect(Math.abs(mean - clipped)).toBeLessThan(3.5 * se);
    // A cut far out changes nothing: both ways of integrating must then agree.
    const far = cusumRunLength(settings, 0, clippedNormalIncrement(8.5));
    expect(far / cusumRunLength(settings, 0)).toBeCloseTo(1, 6);
  });
});

describe("charts of observations", () => {
  it("NIST/SEMATECH e-Handbook 6.3.2.3 (CUSUM; data from memory): first signal at point 14", () => {
    const data = [
      324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625,
      325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
    ];
    const chart = cusumChart(
      data.map((v) => v - 325),
      { allowance: 0.3175, limit: 4.1959 },
    );
    expect(chart.findIndex((p) => p.signal !== null)).toBe(13);
    expect(chart[13]!.upper).toBeCloseTo(4.94, 10);
    expect(chart[7]!.lower).toBeCloseTo(0.715, 10);
  });

  it("NIST/SEMATECH e-Handbook 6.3.2.4 (EWMA; data from memory): inside its limits", () => {
    const data = [
      52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
      52.4, 53.6, 52.1,
    ];
    const chart = ewmaChart(
      data.map((v) => (v - 50) / 2.0539),
      { weight: 0.3, width: 3 },
      { limits: "asymptotic" },
    );
    expect(50 + 2.0539 * chart.at(-1)!.average).toBeCloseTo(51.9882, 3);
    expect(50 + 2.0539 * chart[0]!.upper).toBeCloseTo(52.588432, 5);
    expect(chart.every((p) => p.signal === null)).toBe(true);
  });

  it("a missing observation moves nothing", () => {
    const a = cusumChart([1, null, 2], { allowance: 0.5, limit: 4 });
    expect(a[1]!.upper).toBe(a[0]!.upper);
    const b = ewmaChart([1, null, 2], { weight: 0.2, width: 3 });
    expect([b[1]!.average, b[1]!.upper]).toEqual([b[0]!.average, b[0]!.upper]);
  });
});

describe("tools", () => {
  it("Gauss-Legendre is exact for polynomials of degree 2n - 1", () => {
    const { nodes, weights } = gaussLegendre(6, 0, 2);
    expect(nodes.reduce((s, x, i) => s + weights[i]! * x ** 11, 0)).toBeCloseTo(2 ** 12 / 12, 9);
  });

  it("d2 and c4 of 5 values as in every table", () => {
    const k = controlChartConstants(5);
    expect([k.d2.toFixed(3), k.d3.toFixed(3), k.c4.toFixed(4)]).toEqual([
      "2.326",
      "0.864",
      "0.9400",
    ]);
  });
});
