import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { quantile } from "../../src/stats/descriptive/quantile.js";
import { fiellerInterval } from "../../src/stats/hypothesis-tests/fieller-interval.js";
import { matrixFromRows, matrixRows } from "../../src/stats/linear-algebra/matrix.js";
import { quantileRegression } from "../../src/stats/quantile-regression/quantile-regression.js";
import { bootstrap } from "../../src/stats/resampling/bootstrap.js";
import { permutationTest } from "../../src/stats/resampling/permutation-test.js";
import { bisquareInfluence } from "../../src/stats/robust/influence-function.js";
import { huberLocation } from "../../src/stats/robust/robust-location.js";
import { robustRegression } from "../../src/stats/robust/robust-regression.js";
import { theilSen } from "../../src/stats/robust/theil-sen.js";
import { bSplineBasis, naturalSplineBasis } from "../../src/stats/smoothing/spline-basis.js";

const mean = (v: readonly number[]) => v.reduce((s, a) => s + a, 0) / v.length;

describe("bootstrap", () => {
  const x = [4.1, 5.2, 3.8, 6.6, 5.9, 4.4, 7.1, 5.0];
  const run = (seed: number, more = {}) =>
    bootstrap(x.length, (rows) => mean(rows.map((i) => x[i]!)), { seed, resamples: 500, ...more });

  it("the same seed gives the same interval, another seed another", async () => {
    expect(await run(11)).toEqual(await run(11));
    expect((await run(11)).interval).not.toEqual((await run(12)).interval);
  });

  it("standard error of a mean is close to sd (n - 1 / n) / sqrt(n)", async () => {
    const m = mean(x);
    const sd = Math.sqrt(mean(x.map((v) => (v - m) ** 2)) / x.length);
    const b = await run(13, { resamples: 4000 });
    expect(Math.abs(b.se! / sd - 1)).toBeLessThan(0.05);
  });

  it("can be cancelled, reports progress, and counts resamples that fail", async () => {
    const stop = new AbortController();
    stop.abort(new Error("stopped by the reader"));
    await expect(run(1, { signal: stop.signal })).rejects.toThrow("stopped by the reader");
    let last = 0;
    const b = await bootstrap(x.length, (rows) => (rows.includes(0) ? mean(rows) : null), {
      seed: 14,
      resamples: 300,
      onProgress: (p) => {
        last = p.done;
      },
    });
    expect(last).toBe(300);
    expect(b.usable).toBeLessThan(b.asked);
    expect(b.usable).toBeGreaterThan(0);
  });

  it("percentile and BCa intervals cover about as often as promised (seeded simulation)", async () => {
    const random = seededRandom(20260170);
    let covered = 0;
    const rounds = 150;
    for (let r = 0; r < rounds; r++) {
      const sample = Array.from({ length: 25 }, () => random.exponential());
      const b = await bootstrap(25, (rows) => mean(rows.map((i) => sample[i]!)), {
        seed: r,
        resamples: 400,
      });
      if (b.interval!.lower! <= 1 && b.interval!.upper! >= 1) covered++;
    }
    // Nominal 95 %; small exponential samples fall a little short (known from Efron and Tibshirani).
    expect(covered / rounds).toBeGreaterThan(0.85);
    expect(covered / rounds).toBeLessThan(0.99);
  });
});

describe("permutation test", () => {
  it("counts every division of a small set", async () => {
    const t = await permutationTest([1, 2], [3, 4]);
    expect([t.exact, t.divisions]).toEqual([true, 6]);
    expect(t.p).toBeCloseTo(1 / 3, 12);
  });

  it("drawn p agrees with the counted one", async () => {
    const x = [5.1, 6.2, 7.3, 6.8, 5.9];
    const y = [4.9, 5.5, 5.2, 6.1, 5.0];
    const counted = await permutationTest(x, y);
    const drawn = await permutationTest(x, y, { resamples: 200, seed: 3 });
    expect(counted.divisions).toBe(252);
    expect(drawn.exact).toBe(false);
    expect(Math.abs(drawn.p - counted.p)).toBeLessThan(4 * drawn.se! + 0.01);
  });
});

describe("Fieller's interval", () => {
  it("its ends make the contrast a - r b exactly significant", () => {
    const parts = { a: 6, b: 3, varianceA: 0.04, varianceB: 0.01, covariance: 0.005, df: 12 };
    const f = fiellerInterval(parts);
    const t = 2.1788128296634177; // t(0.975, 12)
    for (const r of [f.lower!, f.upper!]) {
      const variance = 0.04 - 2 * r * 0.005 + r * r * 0.01;
      expect(Math.abs(6 - r * 3) / Math.sqrt(variance)).toBeCloseTo(t, 9);
    }
    expect(f.shape).toBe("bounded");
  });

  it("does not pretend to be bounded when the denominator may be 0", () => {
    expect(fiellerInterval({ a: 5, b: 0.1, varianceA: 0.01, varianceB: 1 }).shape).toBe("outside");
    expect(fiellerInterval({ a: 0.1, b: 0.1, varianceA: 1, varianceB: 1 }).shape).toBe(
      "everything",
    );
  });
});

describe("robust line and location", () => {
  it("Theil-Sen ignores a wild point", () => {
    expect(theilSen([0, 1, 2, 3, 4, 5], [1, 3, 5, 7, 90, 11]).slope).toBe(2);
    expect(theilSen([1, 1, 1], [1, 2, 3]).slope).toBeNull();
  });

  it("bisquare regression gives wild responses weight 0 and says so", () => {
    const rows = Array.from({ length: 12 }, (_, i) => [1, i]);
    const y = rows.map(([, v]) => 3 + 2 * v! + (v! % 3) * 0.1);
    y[4] = 200;
    const fit = robustRegression(matrixFromRows(rows), y, { influence: bisquareInfluence() });
    expect(fit.weights[4]).toBe(0);
    expect(fit.coefficients[1]).toBeCloseTo(2, 1);
    expect(fit.status).toBe("converged");
  });

  it("an exact line is reported, not divided by", () => {
    const rows = Array.from({ length: 8 }, (_, i) => [1, i]);
    const fit = robustRegression(
      matrixFromRows(rows),
      rows.map(([, v]) => 1 + v!),
    );
    expect(fit.status).toBe("exact-fit");
    expect(fit.coefficients[1]).toBeCloseTo(1, 12);
  });

  it("location moves with the data and lies within them", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 15 }),
        (x) => {
          const a = huberLocation(x);
          const b = huberLocation(x.map((v) => 2 * v + 7));
          expect(b.location!).toBeCloseTo(2 * a.location! + 7, 8);
          expect(a.location!).toBeGreaterThanOrEqual(Math.min(...x));
          expect(a.location!).toBeLessThanOrEqual(Math.max(...x));
        },
      ),
      { seed: 20260171 },
    );
  });
});

describe("spline bases", () => {
  const spline = { knots: [1, 2.5], boundary: [0, 4] as [number, number] };

  it("B-splines add up to 1 and their slopes to 0", () => {
    const x = [0, 0.3, 1, 1.7, 2.5, 3.9, 4, 5];
    for (const row of matrixRows(bSplineBasis(x, spline)))
      expect(row.reduce((s, v) => s + v, 0)).toBeCloseTo(1, 12);
    for (const row of matrixRows(bSplineBasis(x, spline, 1)))
      expect(row.reduce((s, v) => s + v, 0)).toBeCloseTo(0, 12);
  });

  it("derivatives are the slope of the values", () => {
    const h = 1e-5;
    const up = bSplineBasis([1.3 + h], spline).data;
    const down = bSplineBasis([1.3 - h], spline).data;
    bSplineBasis([1.3], spline, 1).data.forEach((v, j) => {
      expect(v).toBeCloseTo((up[j]! - down[j]!) / (2 * h), 6);
    });
  });

  it("natural splines are straight outside the boundary", () => {
    const rows = matrixRows(naturalSplineBasis([-3, -2, -1, 5, 6, 7], spline));
    rows[0]!.forEach((_, j) => {
      expect(rows[0]![j]! - 2 * rows[1]![j]! + rows[2]![j]!).toBeCloseTo(0, 10);
      expect(rows[3]![j]! - 2 * rows[4]![j]! + rows[5]![j]!).toBeCloseTo(0, 10);
    });
  });
});

describe("quantile regression", () => {
  it("of a constant is a sample quantile, and splits the data as tau says", () => {
    const lists = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 4, maxLength: 25 });
    fc.assert(
      fc.property(lists, fc.constantFrom(0.1, 0.25, 0.5, 0.9), (y, tau) => {
        const q = quantileRegression(matrixFromRows(y.map(() => [1])), y, tau);
        const b = q.coefficients[0]!;
        const loss = (c: number) =>
          y.reduce((s, v) => s + (v < c ? (tau - 1) * (v - c) : tau * (v - c)), 0);
        expect(q.loss).toBeCloseTo(Math.min(...y.map(loss)), 8);
        expect(y.filter((v) => v < b - 1e-9).length).toBeLessThanOrEqual(tau * y.length + 1e-9);
        expect(y.filter((v) => v <= b + 1e-9).length).toBeGreaterThanOrEqual(tau * y.length - 1e-9);
      }),
      { seed: 20260172 },
    );
    expect(quantile([1, 2, 3], 0.5)).toBe(2);
  });

  it("moves with a change of unit and with an added line", () => {
    const random = seededRandom(20260173);
    const x = Array.from({ length: 40 }, () => [1, random.uniform() * 10]);
    const y = x.map(([, v]) => 2 + v! + random.normal() * (1 + v!));
    const a = quantileRegression(matrixFromRows(x), y, 0.75);
    const b = quantileRegression(
      matrixFromRows(x),
      y.map((v, i) => 3 * v + 5 - 2 * x[i]![1]!),
      0.75,
    );
    expect(b.coefficients[0]).toBeCloseTo(3 * a.coefficients[0]! + 5, 8);
    expect(b.coefficients[1]).toBeCloseTo(3 * a.coefficients[1]! - 2, 8);
  });
});
