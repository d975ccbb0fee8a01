import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { choleskyFactor, solveCholesky } from "../../src/stats/linear-algebra/cholesky.js";
import { makeMatrix } from "../../src/stats/linear-algebra/matrix.js";
import { minimiseOnInterval } from "../../src/stats/numeric/minimise-on-interval.js";
import { curveAt } from "../../src/stats/smoothing/cubic-curve.js";
import { monotoneInterpolation, naturalSpline } from "../../src/stats/smoothing/interpolate.js";
import { localRegression } from "../../src/stats/smoothing/local-regression.js";
import { smoothingSpline } from "../../src/stats/smoothing/smoothing-spline.js";

const x = [0, 0.7, 1, 2.5, 3, 4.2, 5, 6.6, 7, 9];
const y = [1.2, 2.0, 1.1, 3.9, 4.4, 3.2, 5.8, 5.1, 6.6, 7.0];

describe("smoothing spline", () => {
  it("is the minimum of squares plus bending energy (dense solution, written apart)", () => {
    // The energy of the natural spline through g is a quadratic form in g: columns of
    // the matrix come from the curves through the unit vectors, by exact integration
    // of their piecewise linear second derivatives.
    const n = x.length;
    const bends = x.map((_, k) => {
      const curve = naturalSpline(
        x,
        x.map((_, i) => (i === k ? 1 : 0)),
      );
      return x.map((v, i) => (i === 0 || i === n - 1 ? 0 : curveAt(curve, v).bend));
    });
    const energy = (a: number[], b: number[]) => {
      let s = 0;
      for (let i = 0; i < n - 1; i++) {
        const h = x[i + 1]! - x[i]!;
        s +=
          (h / 6) *
          (2 * a[i]! * b[i]! + 2 * a[i + 1]! * b[i + 1]! + a[i]! * b[i + 1]! + a[i + 1]! * b[i]!);
      }
      return s;
    };
    const penalty = 0.002;
    const a = penalty * 9 ** 3;
    const m = makeMatrix(n, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++)
        m.data[i * n + j] = (i === j ? 1 : 0) + a * energy(bends[i]!, bends[j]!);
    }
    const wanted = solveCholesky(choleskyFactor(m)!, y);
    const got = smoothingSpline(x, y, { penalty });
    got.fitted.forEach((f, i) => {
      expect(f).toBeCloseTo(wanted[i]!, 10);
    });
    // The leverages are the diagonal of the inverse.
    got.leverage.forEach((l, i) => {
      const unit = x.map((_, j) => (i === j ? 1 : 0));
      expect(l).toBeCloseTo(solveCholesky(choleskyFactor(m)!, unit)[i]!, 10);
    });
  });

  it("runs from the straight line to interpolation", () => {
    const line = smoothingSpline(x, y, { penalty: 1e8 });
    expect(line.df).toBeCloseTo(2, 4);
    const curve = smoothingSpline(x, y, { penalty: 1e-12 });
    expect(curve.df).toBeCloseTo(x.length, 3);
    expect(curve.fitted[3]).toBeCloseTo(y[3]!, 4);
    expect(smoothingSpline(x, y, { df: 5 }).df).toBeCloseTo(5, 4);
    expect(() => smoothingSpline([1, 2, 3], [1, 2, 3])).toThrow(/four distinct/);
  });

  it("does not mind the order of rows nor a change of unit of x", () => {
    const a = smoothingSpline(x, y, { penalty: 0.01 });
    const b = smoothingSpline(x.map((v) => 60 * v).reverse(), y.slice().reverse(), {
      penalty: 0.01,
    });
    a.fitted.forEach((f, i) => {
      expect(b.fitted[i]).toBeCloseTo(f, 9);
    });
    expect(60 * curveAt(b.curve, 240).slope).toBeCloseTo(curveAt(a.curve, 4).slope, 8);
  });
});

describe("interpolation", () => {
  const rising = fc
    .array(fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 0, max: 20 })), {
      minLength: 2,
      maxLength: 12,
    })
    .map((steps) => {
      let u = 0;
      let v = 0;
      return steps.map(([du, dv]) => {
        u += du;
        v += dv;
        return [u, v] as const;
      });
    });

  it("passes through the points, and the monotone one never falls where they rise", () => {
    fc.assert(
      fc.property(rising, (points) => {
        const u = points.map((p) => p[0]);
        const v = points.map((p) => p[1]);
        const natural = naturalSpline(u, v);
        const monotone = monotoneInterpolation(u, v);
        u.forEach((at, i) => {
          expect(curveAt(natural, at).value).toBeCloseTo(v[i]!, 9);
          expect(curveAt(monotone, at).value).toBeCloseTo(v[i]!, 9);
        });
        for (let k = 0; k <= 200; k++) {
          const at = u[0]! + ((u.at(-1)! - u[0]!) * k) / 200;
          expect(curveAt(monotone, at).slope).toBeGreaterThanOrEqual(-1e-9);
        }
      }),
      { seed: 20260180 },
    );
  });
});

describe("local regression", () => {
  it("gives back a parabola exactly, wherever it is asked", () => {
    const u = Array.from({ length: 25 }, (_, i) => i + Math.sin(i));
    const fit = localRegression(
      u,
      u.map((v) => 1 + 2 * v - 0.1 * v * v),
    );
    expect(fit.at(7.3).value).toBeCloseTo(1 + 14.6 - 0.1 * 7.3 ** 2, 9);
  });

  it("robust rounds take a wild point out", () => {
    const u = Array.from({ length: 30 }, (_, i) => i);
    const v = u.map((t) => 2 * t + Math.cos(5 * t));
    v[12] = 500;
    const plain = localRegression(u, v, { degree: 1, span: 0.5 });
    const robust = localRegression(u, v, { degree: 1, span: 0.5, robustRounds: 4 });
    expect(Math.abs(robust.fitted[12]! - 24)).toBeLessThan(2);
    expect(Math.abs(plain.fitted[12]! - 24)).toBeGreaterThan(20);
  });
});

describe("search on an interval", () => {
  it("finds the deeper of two valleys and says when it ends at the edge", () => {
    const f = (t: number) => (t * t - 4) ** 2 + t;
    expect(minimiseOnInterval(f, -5, 5).x).toBeCloseTo(-2.0309, 3);
    expect(minimiseOnInterval((t) => t, 0, 1).atEnd).toBe(true);
  });
});
