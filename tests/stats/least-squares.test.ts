import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import {
  fitLeastSquares,
  type LeastSquaresModel,
} from "../../src/stats/least-squares/fit-least-squares.js";
import {
  backSubstitute,
  dot,
  invertGram,
  triangularise,
} from "../../src/stats/least-squares/kernels.js";
import { profileInterval } from "../../src/stats/least-squares/profile.js";
import { fitLeastSquaresRestarted } from "../../src/stats/least-squares/restarts.js";

describe("the kernels", () => {
  it("solve a least-squares problem done by hand in fractions", () => {
    // y = a + b x through (0, 1), (1, 2), (2, 4): b = 3/2, a = 5/6, residuals 1/6, -1/3, 1/6.
    const a = Float64Array.from([1, 1, 1, 0, 1, 2]);
    const b = Float64Array.from([1, 2, 4]);
    const x = new Float64Array(2);
    triangularise(a, 3, 2, b);
    expect(backSubstitute(a, 3, 2, b, x)).toBe(0);
    expect(x[0]).toBeCloseTo(5 / 6, 14);
    expect(x[1]).toBeCloseTo(3 / 2, 14);
    expect(b[2]! ** 2).toBeCloseTo(1 / 6, 14);
    // (X'X)^-1 = [[5, -3], [-3, 3]] / 6.
    const inverse = new Float64Array(4);
    expect(invertGram(a, 3, 2, inverse, new Float64Array(4))).toBe(true);
    [5 / 6, -1 / 2, -1 / 2, 1 / 2].forEach((each, i) => {
      expect(inverse[i]).toBeCloseTo(each, 14);
    });
  });

  it("leave the length of any vector as it was (property)", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 3, max: 9 }),
        (seed, rows) => {
          const random = seededRandom(seed);
          const a = Float64Array.from({ length: rows * 3 }, () => random.normal());
          const b = Float64Array.from({ length: rows }, () => random.normal());
          const before = dot(b, 0, b, 0, rows);
          triangularise(a, rows, 3, b);
          expect(dot(b, 0, b, 0, rows) / before).toBeCloseTo(1, 12);
        },
      ),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it("name a singular direction instead of dividing by it", () => {
    const a = Float64Array.from([1, 1, 1, 2, 2, 2]);
    const b = Float64Array.from([1, 2, 3]);
    const x = new Float64Array(2);
    triangularise(a, 3, 2, b);
    expect(backSubstitute(a, 3, 2, b, x)).toBe(1);
    expect(Number.isFinite(x[0]!) && Number.isFinite(x[1]!)).toBe(true);
    expect(invertGram(a, 3, 2, new Float64Array(4), new Float64Array(4))).toBe(false);
  });
});

/** y = a exp(-b x) */
const decay = (x: readonly number[], project = true): LeastSquaresModel => ({
  parameters: 2,
  linear: project ? [0] : [],
  evaluate: (p, values, gradient) => {
    x.forEach((each, i) => {
      const e = Math.exp(-p[1]! * each);
      values[i] = p[0]! * e;
      gradient[2 * i] = e;
      gradient[2 * i + 1] = -p[0]! * each * e;
    });
    return true;
  },
});
const x = [0, 1, 2, 3, 4, 6, 8];
const y = x.map((each, i) => 5 * Math.exp(-0.4 * each) + 0.05 * (i % 3) - 0.05);

describe("the engine", () => {
  it("comes to the same place with and without projection, from near and far", () => {
    const base = fitLeastSquares(decay(x), { y }, { start: [1, 0.3] });
    for (const start of [
      [5, 0.4],
      [100, 2],
      [0.01, 0.01],
    ]) {
      const full = fitLeastSquares(decay(x, false), { y }, { start, damping: 1 });
      expect(full.converged).toBe(true);
      full.theta.forEach((each, j) => {
        expect(each / base.theta[j]!).toBeCloseTo(1, 8);
      });
      full.unscaledCovariance!.forEach((each, j) => {
        expect(each / base.unscaledCovariance![j]!).toBeCloseTo(1, 7);
      });
    }
  });

  it("says why it stopped", () => {
    const exact = x.map((each) => 5 * Math.exp(-0.4 * each));
    const stops = [
      fitLeastSquares(decay(x), { y }, { start: [1, 0.3] }).stop,
      fitLeastSquares(decay(x), { y }, { start: [1, 3], maxIterations: 1 }).stop,
      fitLeastSquares(decay([1]), { y: [2] }, { start: [1, 1] }).stop,
      fitLeastSquares({ ...decay(x), evaluate: () => false }, { y }, { start: [1, 1] }).stop,
    ];
    expect(stops).toEqual(["relative-offset", "iterations", "too-few-rows", "outside-domain"]);
    const zero = fitLeastSquares(decay(x), { y: exact }, { start: [1, 0.3] });
    expect(zero.converged).toBe(true);
    expect(["exact-fit", "rounding"]).toContain(zero.stop);
    expect(zero.theta[1]).toBeCloseTo(0.4, 13);
  });

  it("weights a row twice like two rows, and serial errors of zero change nothing", () => {
    const twice = fitLeastSquares(decay([...x, 2]), { y: [...y, y[2]!] }, { start: [1, 0.3] });
    const rootWeights = x.map((_, i) => (i === 2 ? Math.SQRT2 : 1));
    const weighted = fitLeastSquares(decay(x), { y, rootWeights }, { start: [1, 0.3] });
    weighted.theta.forEach((each, j) => {
      expect(each / twice.theta[j]!).toBeCloseTo(1, 9);
    });
    const carry = x.map(() => 0);
    const plain = fitLeastSquares(decay(x), { y }, { start: [1, 0.3] });
    expect(fitLeastSquares(decay(x), { y, carry }, { start: [1, 0.3] }).rss).toBeCloseTo(
      plain.rss,
      12,
    );
  });

  it("lets a parameter leave a bound it starts on, and holds it where the optimum lies beyond", () => {
    const free = fitLeastSquares(decay(x), { y }, { start: [1, 0.3] }).theta[1]!;
    const leaves = fitLeastSquares(
      decay(x),
      { y },
      { start: [1, 0.1], lower: [-Infinity, 0.1], upper: [Infinity, 2] },
    );
    expect(leaves.theta[1]).toBeCloseTo(free, 8);
    expect(leaves.atBound).toEqual([false, false]);
    const held = fitLeastSquares(
      decay(x),
      { y },
      { start: [1, 0.3], lower: [-Infinity, -Infinity], upper: [Infinity, 0.35] },
    );
    expect(held.theta[1]).toBe(0.35);
    expect(held.atBound).toEqual([false, true]);
    expect(held.converged).toBe(true);
  });

  it("finds the better of two optima with restarts, the same each time", () => {
    // Two bumps; the start lies on the lower one.
    const at = Array.from({ length: 60 }, (_, i) => i / 3);
    const bumps = at.map((t) => Math.exp(-((t - 4) ** 2)) + 3 * Math.exp(-((t - 15) ** 2)));
    const model: LeastSquaresModel = {
      parameters: 2,
      linear: [0],
      evaluate: (p, values, gradient) => {
        at.forEach((t, i) => {
          const e = Math.exp(-((t - p[1]!) ** 2));
          values[i] = p[0]! * e;
          gradient[2 * i] = e;
          gradient[2 * i + 1] = p[0]! * e * 2 * (t - p[1]!);
        });
        return true;
      },
    };
    const one = fitLeastSquares(model, { y: bumps }, { start: [1, 4.2] });
    expect(one.theta[1]).toBeCloseTo(4, 3);
    const options = { start: [1, 4.2], restarts: 30, spread: 1, seed: 3 };
    const many = fitLeastSquaresRestarted(model, { y: bumps }, options);
    expect(many.theta[1]).toBeCloseTo(15, 3);
    expect(fitLeastSquaresRestarted(model, { y: bumps }, options)).toEqual(many);
    expect(many.tried).toHaveLength(31);
  });

  it("profile ends are where the refit's t is the cut", () => {
    const fit = fitLeastSquares(decay(x), { y }, { start: [1, 0.3] });
    const variance = fit.rss / 5;
    const { lower, upper } = profileInterval(decay(x), { y }, {}, fit, 1, variance, 2.5);
    for (const end of [lower, upper]) {
      const held = fitLeastSquares(decay(x), { y }, { start: [5, end.at!], fixed: [false, true] });
      expect(Math.sqrt((held.rss - fit.rss) / variance)).toBeCloseTo(2.5, 5);
    }
  });
});
