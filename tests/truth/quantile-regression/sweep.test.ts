import { describe, expect, it } from "vitest";
import { type QuantileType, quantiles } from "../../../src/stats/descriptive/quantile.js";
import {
  makeMatrix,
  matrixFromRows,
  matrixRows,
} from "../../../src/stats/linear-algebra/matrix.js";
import { quantileRegressionErrors } from "../../../src/stats/quantile-regression/errors.js";
import {
  quantileLoss,
  quantileRegression,
} from "../../../src/stats/quantile-regression/quantile-regression.js";
import { bSplineBasis, naturalSplineBasis } from "../../../src/stats/smoothing/spline-basis.js";
import { readTable } from "../read-table.js";
import { readReference, readReferenceText } from "../reference-folder.js";

/** Quantile regression, spline bases and sample quantiles of the reference folder (R 4.2.2, quantreg 5.94). */
interface Fit {
  id: string;
  tau: number[];
  coef_by_tau: number[][];
  check_loss: number[];
  se_nid_by_tau: number[][];
  grid: Record<string, number[]>;
  predicted_rows_are_grid_cols_tau: number[][];
}
interface Reference {
  cases: Fit[];
  bases: Record<
    string,
    { x: number[]; rows: number[][]; knots?: number[]; boundary?: [number, number] }
  >;
  sample_quantiles: { x: (number | null)[]; probs: number[]; q: Record<string, number[]> };
}
interface Model {
  file: string;
  x: string;
  y: string;
  log?: boolean;
  rows: (x: number[]) => number[][];
}
const withConstant = (rows: number[][]) => rows.map((r) => [1, ...r]);
const bs = (knots: number[], boundary: [number, number]) => (x: number[]) =>
  withConstant(matrixRows(bSplineBasis(x, { knots, boundary })).map((r) => r.slice(1)));
const ns = (knots: number[], boundary: [number, number]) => (x: number[]) =>
  matrixRows(naturalSplineBasis(x, { knots, boundary }));
const line = (x: number[]) => x.map((v) => [1, v]);
const parabola = (x: number[]) => x.map((v) => [1, v, v * v]);
const gag = { file: "GAGurine", x: "Age", y: "GAG" };
const chick = { file: "ChickWeight", x: "Time", y: "weight" };
const models: Record<string, Model> = {
  "gag-bs": { ...gag, rows: bs([1, 3, 6, 11], [0, 17.67]) },
  "gag-ns": { ...gag, log: true, rows: ns([1, 3, 6, 11], [0, 17.67]) },
  "chick-linear": { ...chick, rows: line },
  "chick-quad": { ...chick, rows: parabola },
  "chick-ns": { ...chick, rows: ns([6, 12, 17], [0, 21]) },
  "bmi-bs": { file: "bmi.nz", x: "age", y: "BMI", rows: bs([30, 45, 60], [15, 90]) },
  engel: { file: "engel", x: "income", y: "foodexp", rows: line },
  "spruce-quad": { file: "Spruce", x: "days", y: "logSize", rows: parabola },
};

describe("quantile regression of the reference folder", () => {
  const reference = readReference<Reference>("values/quantreg.json");
  const cases = reference.cases;

  it("covers every model", () => expect(cases.map((c) => c.id)).toEqual(Object.keys(models)));

  it.each(cases.map((c) => [c.id, c] as const))("%s", (id, fit) => {
    const model = models[id]!;
    const table = readTable(readReferenceText(`data/${model.file}.csv`));
    const x = matrixFromRows(model.rows(table[model.x]!.map(Number)));
    const y = table[model.y]!.map((v) => (model.log ? Math.log(Number(v)) : Number(v)));
    const grid = model.rows(Object.values(fit.grid)[0]!);
    fit.tau.forEach((tau, t) => {
      const q = quantileRegression(x, y, tau);
      expect(q.converged).toBe(true);
      expect(Math.abs(q.loss / fit.check_loss[t]! - 1)).toBeLessThan(1e-9);
      expect(q.loss).toBeCloseTo(quantileLoss(x, y, q.coefficients, tau), 9);
      if (!q.unique) return;
      // Any basis of the same space: the fitted curves must agree where the solution is unique.
      grid.forEach((row, g) => {
        const got = row.reduce((s, v, j) => s + v * q.coefficients[j]!, 0);
        const wanted = fit.predicted_rows_are_grid_cols_tau[g]![t]!;
        expect(Math.abs(got - wanted)).toBeLessThan(1e-6 * Math.abs(wanted));
      });
    });
  });

  // Only models whose columns are the reference's own (the natural-spline ones differ).
  const sameColumns = cases.filter((c) => !/-ns$/.test(c.id)).map((c) => [c.id, c] as const);
  it.each(sameColumns)("standard errors: %s", (id, fit) => {
    const model = models[id]!;
    const table = readTable(readReferenceText(`data/${model.file}.csv`));
    const x = matrixFromRows(model.rows(table[model.x]!.map(Number)));
    const y = table[model.y]!.map(Number);
    const ratios = fit.tau.flatMap((tau, t) => {
      const { standardErrors } = quantileRegressionErrors(x, y, tau);
      return standardErrors.map((se, j) => (se ?? Number.NaN) / fit.se_nid_by_tau[t]![j]! - 1);
    });
    expect(Math.max(...ratios.map(Math.abs))).toBeLessThan(1e-6);
  });

  it("spline bases", () => {
    const { bases } = reference!;
    const { x, knots, boundary } = bases["bs"]!;
    const spline = { knots: knots!, boundary: boundary! };
    const all = matrixRows(bSplineBasis(x, spline));
    const compare = (got: number[][], wanted: number[][], tolerance: number) =>
      wanted.forEach((row, i) => {
        row.forEach((v, j) => {
          expect(Math.abs(got[i]![j]! - v)).toBeLessThan(tolerance);
        });
      });
    compare(
      all.map((r) => r.slice(1)),
      bases["bs"]!.rows,
      1e-12,
    );
    compare(all, bases["bs_intercept"]!.rows, 1e-12);
    const slopes = matrixRows(bSplineBasis(bases["bs_d1"]!.x, spline, 1));
    const width = bases["bs_d1"]!.rows[0]!.length;
    compare(
      slopes.map((r) => r.slice(r.length - width)),
      bases["bs_d1"]!.rows,
      1e-11,
    );
  });

  it("natural spline: the reference's columns lie in the same space", () => {
    const { x, rows } = reference!.bases["ns"]!;
    const ours = naturalSplineBasis(x, { knots: [1, 3, 6, 11], boundary: [0, 17.67] });
    const joint = makeMatrix(
      x.length,
      ours.cols + rows[0]!.length,
      rows.flatMap((r, i) => [...ours.data.subarray(i * ours.cols, (i + 1) * ours.cols), ...r]),
    );
    // All columns together still have the rank of ours.
    const residual = (k: number) => {
      const y = rows.map((r) => r[k]!);
      const loss = quantileRegression(ours, y, 0.5).loss;
      return loss / y.reduce((s, v) => s + Math.abs(v), 0);
    };
    expect(joint.cols).toBe(ours.cols + rows[0]!.length);
    rows[0]!.forEach((_, k) => {
      expect(residual(k)).toBeLessThan(1e-9);
    });
  });

  it("sample quantiles, nine types, missing values left out", () => {
    const { x, probs, q } = reference!.sample_quantiles;
    for (let type = 1; type <= 9; type++) {
      quantiles(x, probs, type as QuantileType).forEach((v, i) => {
        expect(v).toBeCloseTo(q[`type${type}`]![i]!, 12);
      });
    }
  });
});
