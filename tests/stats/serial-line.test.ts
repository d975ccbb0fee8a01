import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mixedTHalfWidth } from "../../src/stats/distributions/mixed-t-half-width.js";
import { studentTCumulative, studentTQuantile } from "../../src/stats/distributions/student-t.js";
import {
  serialGrid,
  serialLikelihood,
  serialLine,
} from "../../src/stats/linear-model/serial-line.js";

const x = [0, 1, 2, 3.5, 4, 5, 6.2, 7];
const y = [1, 2.2, 2.9, 5, 5.3, 5.9, 8, 9.1];
const at = (phi: number) => serialGrid.indexOf(phi);

describe("a line with errors that hang together", () => {
  // R 4 with nlme 3.1-162: gls(y ~ x, correlation = corCAR1(phi, form = ~ x, fixed = TRUE),
  // method = "REML"); logLik, and sigma^2 w' R w for the least-squares weights w.
  it.each([
    [0, -4.76449586, 0.002536502],
    [0.25, -4.46944044, 0.003943429],
    [0.5, -4.43984527, 0.007065044],
    [0.9, -4.54538808, 0.02274132],
  ])(
    "has nlme's restricted likelihood and variance of the slope at %d",
    (phi, logLik, variance) => {
      const line = serialLine(x, y);
      const base = line.logLikelihood[at(0.5)]! + 4.43984527;
      expect(line.logLikelihood[at(phi)]! - base).toBeCloseTo(logLik, 7);
      expect(line.variances[at(phi)]! / variance).toBeCloseTo(1, 6);
    },
  );

  // The same with gls(y ~ x + I(x^2), ...); at 0 without `correlation`.
  it.each([
    [0, -6.64807149],
    [0.5, -6.38904662],
    [0.9, -6.4539413],
  ])("has nlme's restricted likelihood for a parabola at %d", (phi, logLik) => {
    const found = serialLikelihood(x, y);
    const base = found[at(0.5)]! + 6.38904662;
    expect(found[at(phi)]! - base).toBeCloseTo(logLik, 7);
  });

  it("does not care about shift, slope or scale, and a parabola not about curvature", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        (shift, tilt, scale) => {
          const other = y.map((v, i) => shift + tilt * x[i]! + scale * v);
          const [a, b] = [serialLine(x, y), serialLine(x, other)];
          expect((b.slope - tilt) / scale).toBeCloseTo(a.slope, 7);
          expect(b.variances[10]! / scale ** 2 / a.variances[10]!).toBeCloseTo(1, 6);
          const gap = (l: readonly number[]) => l[12]! - l[0]!;
          expect(gap(b.logLikelihood)).toBeCloseTo(gap(a.logLikelihood), 6);
          const bent = other.map((v, i) => v + tilt * x[i]! ** 2);
          expect(gap(serialLikelihood(x, bent))).toBeCloseTo(gap(serialLikelihood(x, y)), 5);
        },
      ),
      { seed: 20260701, numRuns: 40 },
    );
  });

  it("learns nothing from points without scatter", () => {
    const exact = serialLine([0, 1, 2, 3], [5, 7, 9, 11]);
    expect(exact.slope).toBeCloseTo(2, 12);
    expect(exact.variances.every((v) => v === 0)).toBe(true);
    expect(serialLikelihood([0, 1, 2, 3, 4], [0, 1, 4, 9, 16]).every((l) => l === 0)).toBe(true);
    expect(serialLikelihood([0, 1, 2], [0, 1, 5]).every((l) => l === 0)).toBe(true);
  });
});

describe("the interval of a mixture of t distributions", () => {
  it("is the t interval when there is one part, or parts alike", () => {
    // t quantiles of printed tables: 2.571 (5 df), 2.160 (13 df).
    expect(mixedTHalfWidth([3], [1], 5, 0.95)).toBeCloseTo(3 * 2.5705818356, 8);
    expect(mixedTHalfWidth([1, 1, 1], [0.2, 0.3, 0.5], 13, 0.95)).toBeCloseTo(2.1603686565, 8);
    expect(mixedTHalfWidth([0, 0], [0.5, 0.5], 5, 0.95)).toBe(0);
  });

  it("holds the level asked for", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: 0.01, max: 30, noNaN: true }), fc.integer({ min: 1, max: 9 })),
          {
            minLength: 2,
            maxLength: 19,
          },
        ),
        fc.integer({ min: 1, max: 40 }),
        fc.constantFrom(0.5, 0.8, 0.95, 0.99),
        (parts, df, level) => {
          const sum = parts.reduce((s, p) => s + p[1], 0);
          const scales = parts.map((p) => p[0]);
          const weights = parts.map((p) => p[1] / sum);
          const h = mixedTHalfWidth(scales, weights, df, level);
          const inside = scales.reduce(
            (s, scale, i) => s + weights[i]! * (1 - 2 * studentTCumulative(h / scale, df, "upper")),
            0,
          );
          expect(inside).toBeCloseTo(level, 7);
          const t = studentTQuantile(0.5 + level / 2, df);
          expect(h).toBeGreaterThanOrEqual(t * Math.min(...scales) * (1 - 1e-9));
          expect(h).toBeLessThanOrEqual(t * Math.max(...scales) * (1 + 1e-9));
        },
      ),
      { seed: 20260702, numRuns: 150 },
    );
  });
});
