import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import {
  choleskyFactor,
  logDeterminantFromCholesky,
  solveCholesky,
} from "../../src/stats/linear-algebra/cholesky.js";
import {
  crossProduct,
  makeMatrix,
  matrixColumn,
  matrixFromColumns,
  multiplyMatrices,
  transposeMatrix,
} from "../../src/stats/linear-algebra/matrix.js";
import {
  estimateContrast,
  prepareInference,
  testContrasts,
} from "../../src/stats/linear-mixed/contrasts.js";
import type { LinearMixedData } from "../../src/stats/linear-mixed/data.js";
import { prepareLinearMixed } from "../../src/stats/linear-mixed/engine.js";
import { fitLinearMixed } from "../../src/stats/linear-mixed/fit-linear-mixed.js";
import { splineVariable } from "../../src/stats/linear-mixed/spline.js";
import { varianceExplained } from "../../src/stats/linear-mixed/terms.js";
import { buildDesign } from "../../src/stats/linear-model/design.js";
import { bSplineBasis, naturalSplineBasis } from "../../src/stats/smoothing/spline-basis.js";

/** Rows in two nested levels, shuffled, unbalanced. */
function nestedData(seed: number, extra: Partial<LinearMixedData> = {}): LinearMixedData {
  const random = seededRandom(seed);
  const outer: string[] = [];
  const inner: number[] = [];
  const x: number[] = [];
  const y: number[] = [];
  for (let s = 0; s < 5; s++) {
    const a = 3 * random.normal();
    for (let g = 0; g < 3 + random.below(4); g++) {
      const b0 = 2 * random.normal();
      const b1 = 0.5 * random.normal();
      for (let i = 0; i < 2 + random.below(5); i++) {
        outer.push(`s${s}`);
        inner.push(g);
        x.push(i + random.uniform());
        y.push(10 + a + b0 + (1 + b1) * x[x.length - 1]! + random.normal());
      }
    }
  }
  const order = random.shuffled(x.map((_, i) => i));
  const pick = <T>(v: T[]) => order.map((i) => v[i]!);
  const xs = pick(x);
  const one = xs.map(() => 1);
  return {
    response: pick(y),
    fixed: { names: ["one", "x"], columns: [one, xs] },
    levels: [
      { name: "outer", group: pick(outer), names: ["one"], columns: [one] },
      { name: "inner", nested: true, group: pick(inner), names: ["one", "x"], columns: [one, xs] },
    ],
    ...extra,
  };
}

/** -2 log-likelihood from the dense covariance matrix, by its textbook definition. */
function denseDeviance(
  data: LinearMixedData,
  psi: number[][][],
  sigma: number,
  method: "ML" | "REML",
): number {
  const n = data.response.length;
  const v = makeMatrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let s = i === j ? sigma * sigma : 0;
      let same = true;
      data.levels.forEach((level, k) => {
        same = same && level.group[i] === level.group[j];
        if (!same) return;
        level.columns.forEach((a, r) => {
          level.columns.forEach((b, c) => {
            s += a[i]! * psi[k]![r]![c]! * b[j]!;
          });
        });
      });
      v.data[i * n + j] = s;
    }
  }
  const l = choleskyFactor(v)!;
  const x = matrixFromColumns([...data.fixed.columns]);
  const p = x.cols;
  const vx = matrixFromColumns(data.fixed.columns.map((c) => solveCholesky(l, c)));
  const vy = solveCholesky(l, data.response);
  const information = multiplyMatrices(transposeMatrix(x), vx);
  const li = choleskyFactor(information)!;
  const xy = data.fixed.columns.map((c) => {
    let s = 0;
    for (let i = 0; i < n; i++) s += c[i]! * vy[i]!;
    return s;
  });
  const beta = solveCholesky(li, xy);
  let q = 0;
  for (let i = 0; i < n; i++) q += data.response[i]! * vy[i]!;
  xy.forEach((s, k) => {
    q -= s * beta[k]!;
  });
  const df = method === "ML" ? n : n - p;
  return (
    df * Math.log(2 * Math.PI) +
    logDeterminantFromCholesky(l) +
    q +
    (method === "REML" ? logDeterminantFromCholesky(li) : 0)
  );
}

describe("the profiled likelihood", () => {
  for (const method of ["ML", "REML"] as const) {
    it(`equals the dense likelihood for two nested levels (${method})`, () => {
      const data = nestedData(11);
      const fit = fitLinearMixed(data, { method });
      expect(fit.status).toBe("converged");
      const psi = fit.random.map((r) => r.covariance.map((row) => [...row]));
      const dense = denseDeviance(data, psi, fit.sigma, method);
      expect(-2 * fit.logLikelihood).toBeCloseTo(dense, 7);
      // And no nearby value of any variance parameter does better.
      for (const f of [0.97, 1.03]) {
        for (const k of [0, 1]) {
          const moved = psi.map((m, j) => (j === k ? m.map((row) => row.map((e) => e * f)) : m));
          expect(denseDeviance(data, moved, fit.sigma, method)).toBeGreaterThan(dense);
        }
        expect(denseDeviance(data, psi, fit.sigma * f, method)).toBeGreaterThan(dense);
      }
    });

    it(`has the gradient that differences give (${method})`, () => {
      fc.assert(
        fc.property(fc.integer({ min: 1, max: 1000 }), (seed) => {
          const time = nestedData(seed).fixed.columns[1]!;
          const engine = prepareLinearMixed(
            nestedData(seed, seed % 2 === 0 ? {} : { residual: { serial: { time } } }),
          );
          const random = seededRandom(seed);
          const size = engine.thetaCount + (engine.residual?.count ?? 0);
          const at = Float64Array.from({ length: size }, () => random.normal());
          const gradient = new Float64Array(size);
          engine.deviance(at, method, gradient);
          for (let k = 0; k < engine.thetaCount; k++) {
            const h = 1e-5;
            const up = Float64Array.from(at);
            const down = Float64Array.from(at);
            up[k]! += h;
            down[k]! -= h;
            const slope =
              (engine.deviance(up, method, null) - engine.deviance(down, method, null)) / (2 * h);
            expect(Math.abs(slope - gradient[k]!)).toBeLessThan(1e-5 * (1 + Math.abs(slope)));
          }
        }),
        { numRuns: 30 },
      );
    });
  }

  it("gives a crossed factor through indicator columns in one group", () => {
    // 6 rows x 5 columns, additive effects and noise: with balanced crossed factors the
    // REML estimates are those of the analysis of variance (Searle, Casella and
    // McCulloch 1992, chapter 4), when all mean squares exceed the residual one.
    const random = seededRandom(5);
    const rows = 8;
    const columns = 6;
    const a = Array.from({ length: rows }, () => 3 * random.normal());
    const b = Array.from({ length: columns }, () => 2 * random.normal());
    const y: number[] = [];
    const row: number[] = [];
    const column: number[] = [];
    for (let i = 0; i < rows; i++) {
      for (let j = 0; j < columns; j++) {
        row.push(i);
        column.push(j);
        y.push(5 + a[i]! + b[j]! + random.normal());
      }
    }
    const one = y.map(() => 1);
    const indicator = Array.from({ length: columns }, (_, j) =>
      column.map((c) => (c === j ? 1 : 0)),
    );
    const fit = fitLinearMixed({
      response: y,
      fixed: { names: ["one"], columns: [one] },
      levels: [
        {
          name: "column",
          group: one,
          names: indicator.map((_, j) => `c${j}`),
          columns: indicator,
          covariance: "identity",
        },
        { name: "row", group: row, names: ["one"], columns: [one] },
      ],
    });
    const mean = (keep: (k: number) => boolean) => {
      const v = y.filter((_, k) => keep(k));
      return v.reduce((s, e) => s + e, 0) / v.length;
    };
    const grand = mean(() => true);
    const rowMean = a.map((_, i) => mean((k) => row[k] === i));
    const columnMean = b.map((_, j) => mean((k) => column[k] === j));
    const ss = (v: number[], times: number) => times * v.reduce((s, e) => s + (e - grand) ** 2, 0);
    const msRow = ss(rowMean, columns) / (rows - 1);
    const msColumn = ss(columnMean, rows) / (columns - 1);
    const error = y.reduce(
      (s, e, k) => s + (e - rowMean[row[k]!]! - columnMean[column[k]!]! + grand) ** 2,
      0,
    );
    const msError = error / ((rows - 1) * (columns - 1));
    expect(fit.sigma ** 2).toBeCloseTo(msError, 6);
    expect(fit.random[1]!.covariance[0]![0]).toBeCloseTo((msRow - msError) / columns, 5);
    expect(fit.random[0]!.covariance[0]![0]).toBeCloseTo((msColumn - msError) / rows, 5);
  });

  it("equals analysis of variance for balanced groups, with exact F tests", () => {
    // One-way random effects, balanced: REML is the ANOVA estimate, and the test of the
    // mean is t with groups - 1 degrees of freedom by all methods.
    const random = seededRandom(8);
    const y: number[] = [];
    const g: number[] = [];
    for (let i = 0; i < 7; i++) {
      const b = 2 * random.normal();
      for (let j = 0; j < 4; j++) {
        g.push(i);
        y.push(3 + b + random.normal());
      }
    }
    const one = y.map(() => 1);
    const fit = fitLinearMixed({
      response: y,
      fixed: { names: ["one"], columns: [one] },
      levels: [{ name: "g", group: g, names: ["one"], columns: [one] }],
    });
    const means = Array.from({ length: 7 }, (_, i) => {
      const v = y.filter((__, k) => g[k] === i);
      return v.reduce((s, e) => s + e, 0) / 4;
    });
    const grand = means.reduce((s, e) => s + e, 0) / 7;
    const between = (4 * means.reduce((s, e) => s + (e - grand) ** 2, 0)) / 6;
    const within = y.reduce((s, e, k) => s + (e - means[g[k]!]!) ** 2, 0) / 21;
    expect(fit.sigma ** 2).toBeCloseTo(within, 7);
    expect(fit.random[0]!.covariance[0]![0]).toBeCloseTo((between - within) / 4, 6);
    for (const method of ["kenward-roger", "satterthwaite", "containment"] as const) {
      const c = estimateContrast(prepareInference(fit, method), [1]);
      expect(c.estimate).toBeCloseTo(grand, 9);
      expect(c.se).toBeCloseTo(Math.sqrt(between / 28), 7);
      expect(c.df).toBeCloseTo(6, 3);
      const f = testContrasts(prepareInference(fit, method), [[1]]);
      expect(f.f).toBeCloseTo(c.t ** 2, 6);
    }
    const shares = varianceExplained(fit);
    expect(shares.marginal).toBeCloseTo(0, 9);
    const psi = (between - within) / 4;
    expect(shares.conditional).toBeCloseTo(psi / (psi + within), 6);
  });
});

describe("laws of the linear mixed model", () => {
  it("does not depend on the order of rows", () => {
    const data = nestedData(3);
    const order = seededRandom(4).shuffled(Array.from(data.response, (_, i) => i));
    const pick = <T>(v: ArrayLike<T>) => order.map((i) => v[i]!);
    const other = fitLinearMixed({
      response: pick(data.response),
      fixed: { names: data.fixed.names, columns: data.fixed.columns.map(pick) },
      levels: data.levels.map((l) => ({
        ...l,
        group: pick(l.group),
        columns: l.columns.map(pick),
      })),
    });
    const fit = fitLinearMixed(data);
    expect(other.logLikelihood).toBeCloseTo(fit.logLikelihood, 7);
    fit.fitted.forEach((_, i) => {
      expect(other.fitted[i]).toBeCloseTo(fit.fitted[order[i]!]!, 4);
    });
  });

  it("follows a change of units and of the origin of x exactly", () => {
    const data = nestedData(6);
    const fit = fitLinearMixed(data);
    const x = Array.from(data.fixed.columns[1]!, (v) => v * 1000 + 5e6);
    const one = data.fixed.columns[0]!;
    const moved = fitLinearMixed({
      response: Array.from(data.response, (v) => v / 1000),
      fixed: { names: ["one", "x"], columns: [one, x] },
      levels: [data.levels[0]!, { ...data.levels[1]!, columns: [one, x] }],
    });
    expect(moved.fixed.estimates[1]! * 1e6).toBeCloseTo(fit.fixed.estimates[1]!, 5);
    expect(moved.sigma * 1000).toBeCloseTo(fit.sigma, 6);
    expect(moved.random[1]!.sd[1]! * 1e6).toBeCloseTo(fit.random[1]!.sd[1]!, 4);
  });

  it("reports a variance of zero once, in words, and stays valid", () => {
    const random = seededRandom(21);
    const g = Array.from({ length: 40 }, (_, i) => i % 8);
    // Group means made equal: the variance between groups has its maximum at zero.
    const raw = g.map(() => random.normal());
    const y = raw.map((v, i) => {
      const own = raw.filter((_, k) => g[k] === g[i]);
      return v - own.reduce((s, e) => s + e, 0) / own.length;
    });
    const one = y.map(() => 1);
    const fit = fitLinearMixed({
      response: y,
      fixed: { names: ["one"], columns: [one] },
      levels: [{ name: "g", group: g, names: ["one"], columns: [one] }],
    });
    expect(fit.status).toBe("converged");
    expect(fit.singular).toBe(true);
    expect(fit.notices.map((n) => n.code)).toEqual(["mixed-singular"]);
    const ss = y.reduce((s, v) => s + v * v, 0);
    expect(fit.sigma ** 2).toBeCloseTo(ss / 39, 6);
  });

  it("names columns that repeat others instead of failing", () => {
    const data = nestedData(9);
    const fit = fitLinearMixed({
      ...data,
      fixed: {
        names: ["one", "x", "twice x"],
        columns: [...data.fixed.columns, Array.from(data.fixed.columns[1]!, (v) => 2 * v)],
      },
    });
    expect(fit.fixed.estimates[2]).toBeNull();
    expect(fit.notices.map((n) => n.code)).toContain("mixed-aliased-columns");
    expect(() => estimateContrast(prepareInference(fit), [0, 0, 1])).toThrow(/twice x/);
  });

  it("says which row is not finite", () => {
    const data = nestedData(9);
    const response = Array.from(data.response);
    response[4] = Number.NaN;
    expect(() => fitLinearMixed({ ...data, response })).toThrow(/row 4 is NaN/);
  });

  it("finds a known weight's effect: doubling all weights halves sigma squared", () => {
    const data = nestedData(12);
    const weights = Array.from(data.response, (_, i) => 1 + (i % 3));
    const one = fitLinearMixed({ ...data, residual: { weights } });
    const two = fitLinearMixed({ ...data, residual: { weights: weights.map((w) => 2 * w) } });
    expect(two.sigma ** 2 / 2).toBeCloseTo(one.sigma ** 2, 5);
    expect(two.logLikelihood).toBeCloseTo(one.logLikelihood, 6);
  });
});

describe("fixed designs", () => {
  it("keeps all levels of a factor whose main effect is missing", () => {
    const design = buildDesign(
      {
        day: { kind: "number", values: [1, 2, 3, 4] },
        diet: { kind: "factor", values: ["a", "b", "a", "b"] },
      },
      [["day", "diet"]],
    );
    // As in general-purpose software: an intercept and one slope per level.
    expect(design.names).toEqual(["(Intercept)", "day:dieta", "day:dietb"]);
    expect(crossProduct(matrixFromColumns([...design.columns])).rows).toBe(3);
  });

  it("spans, with an intercept, exactly the natural and the B spline", () => {
    const data = nestedData(14);
    const x = Array.from(data.fixed.columns[1]!);
    const spline = { knots: [1.5, 3], boundary: [0, 6] as [number, number] };
    for (const kind of ["natural", "b"] as const) {
      const design = buildDesign({ x: splineVariable("x", x, { kind, ...spline }) }, [["x"]]);
      const whole = kind === "natural" ? naturalSplineBasis(x, spline) : bSplineBasis(x, spline);
      // The full basis holds the constant: as many columns as design and intercept together.
      expect(design.columns).toHaveLength(whole.cols);
      const columns = Array.from({ length: whole.cols }, (_, j) => matrixColumn(whole, j));
      const one = fitLinearMixed({ ...data, fixed: design }, { method: "ML" });
      const two = fitLinearMixed(
        { ...data, fixed: { names: columns.map((_, j) => `c${j}`), columns } },
        { method: "ML" },
      );
      expect(one.logLikelihood).toBeCloseTo(two.logLikelihood, 7);
      one.fitted.forEach((v, i) => {
        expect(v).toBeCloseTo(two.fitted[i]!, 5);
      });
      expect(Array.from(design.rowAt({ x: x[4]! }))).toEqual(design.columns.map((c) => c[4]));
    }
  });

  it("takes spline and polynomial columns as a basis", () => {
    const design = buildDesign(
      {
        day: {
          kind: "basis",
          values: [1, 2, 3],
          names: ["d", "d2"],
          evaluate: (x) => [x, x * x],
        },
      },
      [["day"]],
    );
    expect(Array.from(design.rowAt({ day: 3 }))).toEqual([1, 3, 9]);
    expect(() => design.rowAt({})).toThrow(/a value of day/);
  });
});
