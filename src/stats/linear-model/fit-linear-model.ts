import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { fCumulative } from "../distributions/f.js";
import { studentTTwoSided } from "../distributions/student-t.js";
import {
  applyQ,
  applyQTransposed,
  coefficientsFromEffects,
  type HouseholderQr,
  householderQr,
  inverseCrossProduct,
} from "../linear-algebra/householder-qr.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import { compensatedSum } from "../numeric/compensated-sum.js";
import { refineLeastSquares } from "./refine-least-squares.js";

export interface LinearModelOptions {
  /** Prior weights, one per row, >= 0: the variance of a row is sigma^2 / weight. */
  readonly weights?: ArrayLike<number>;
  /**
   * Whether the columns hold a constant, so that R^2 and F are about the mean.
   * Default: found out (some column is constant and not 0).
   */
  readonly intercept?: boolean;
}

export interface LinearModel {
  /** One per column; `null` where the column depends on the others. */
  readonly coefficients: readonly (number | null)[];
  readonly standardErrors: readonly (number | null)[];
  /** t ratios and two-sided p-values; `null` without residual degrees of freedom. */
  readonly tRatios: readonly (number | null)[];
  readonly pValues: readonly (number | null)[];
  /** Columns kept, ascending; rows and columns of both matrices follow it. */
  readonly kept: readonly number[];
  /** (X'WX)^-1 over the kept columns. */
  readonly unscaledCovariance: Matrix;
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  /** Hat values; 0 for rows of weight 0. */
  readonly leverage: Float64Array;
  readonly weights: Float64Array | null;
  /** Rows with weight above 0. */
  readonly n: number;
  readonly rank: number;
  readonly dfResidual: number;
  /** Weighted sum of squared residuals. */
  readonly rss: number;
  /** Weighted sum of squares about the mean (about 0 without a constant). */
  readonly tss: number;
  /** sqrt(rss / dfResidual); `null` without residual degrees of freedom. */
  readonly residualSd: number | null;
  readonly r2: number | null;
  readonly adjustedR2: number | null;
  readonly f: {
    readonly value: number;
    readonly df1: number;
    readonly df2: number;
    readonly p: number;
  } | null;
  /** Normal log-likelihood at the ML variance; `null` for an exact fit. */
  readonly logLikelihood: number | null;
  readonly intercept: boolean;
  /** Rounds of refinement in doubled precision, and whether they settled. */
  readonly refinement: { readonly rounds: number; readonly settled: boolean };
}

/**
 * Least squares of y (n numbers) on the columns of x (n x p) by Householder QR
 * with refinement in doubled precision. Without a constant column R^2 is about 0.
 *
 * @throws UsageError when lengths differ, a number is not finite or a weight is negative.
 * @example fitLinearModel(matrixFromRows([[1, 1], [1, 2], [1, 3]]), [1, 2, 4]).coefficients // -0.666..., 1.5
 */
export function fitLinearModel(
  x: Matrix,
  y: ArrayLike<number>,
  options: LinearModelOptions = {},
): LinearModel {
  requireFiniteInput(x, y, options.weights);
  const weights = options.weights === undefined ? null : Float64Array.from(options.weights);
  const root = weights?.map(Math.sqrt) ?? null;
  const scaled = root === null ? x : scaleRows(x, root);
  const z = Float64Array.from(y);
  if (root !== null) for (let i = 0; i < z.length; i++) z[i]! *= root[i]!;

  const qr = householderQr(scaled, { tolerance: 1e-11 });
  const start = coefficientsFromEffects(qr, applyQTransposed(qr, z));
  const refined = refineLeastSquares(scaled, qr, z, start);
  const { coefficients } = refined;
  const kept = qr.pivot.slice(0, qr.rank).sort((i, j) => i - j);
  const unscaledCovariance = inverseCrossProduct(qr);

  const residuals = new Float64Array(x.rows);
  const fitted = new Float64Array(x.rows);
  for (let i = 0; i < x.rows; i++) {
    // A row of weight 0 has no refined residual of its own.
    const w = root === null ? 1 : root[i]!;
    if (w > 0) residuals[i] = refined.residuals[i]! / w;
    else {
      let f = 0;
      for (const j of kept) f += x.data[i * x.cols + j]! * coefficients[j]!;
      residuals[i] = y[i]! - f;
    }
    fitted[i] = y[i]! - residuals[i]!;
  }
  const n = weights === null ? x.rows : weights.reduce((s, w) => s + (w > 0 ? 1 : 0), 0);
  const dfResidual = n - qr.rank;
  const rss = compensatedSum(refined.residuals.map((r) => r * r));
  const intercept = options.intercept ?? hasConstantColumn(x);
  const tss = totalSquares(y, weights, intercept);
  const dfModel = qr.rank - (intercept ? 1 : 0);
  const variance = dfResidual > 0 ? rss / dfResidual : null;
  const standardErrors: (number | null)[] = new Array(x.cols).fill(null);
  kept.forEach((j, k) => {
    if (variance !== null) {
      standardErrors[j] = Math.sqrt(variance * unscaledCovariance.data[k * qr.rank + k]!);
    }
  });
  const tRatios = coefficients.map((b, j) => ratio(b, standardErrors[j]!));
  const fValue =
    variance !== null && variance > 0 && dfModel > 0 ? (tss - rss) / dfModel / variance : null;
  return {
    coefficients,
    standardErrors,
    tRatios,
    pValues: tRatios.map((t) => (t === null ? null : studentTTwoSided(t, dfResidual))),
    kept,
    unscaledCovariance,
    fitted,
    residuals,
    leverage: leverageOf(qr, x.rows),
    weights,
    n,
    rank: qr.rank,
    dfResidual,
    rss,
    tss,
    residualSd: variance === null ? null : Math.sqrt(variance),
    r2: tss > 0 ? 1 - rss / tss : null,
    adjustedR2:
      tss > 0 && dfResidual > 0 ? 1 - (rss / dfResidual) * ((n - (intercept ? 1 : 0)) / tss) : null,
    f:
      fValue === null
        ? null
        : {
            value: fValue,
            df1: dfModel,
            df2: dfResidual,
            p: fCumulative(fValue, dfModel, dfResidual, "upper"),
          },
    logLikelihood: rss > 0 ? logLikelihoodOf(rss, n, weights) : null,
    intercept,
    refinement: { rounds: refined.rounds, settled: refined.settled },
  };
}

function ratio(b: number | null, se: number | null): number | null {
  return b === null || se === null || !(se > 0) ? null : b / se;
}

function logLikelihoodOf(rss: number, n: number, weights: Float64Array | null): number {
  let logs = 0;
  if (weights !== null) for (const w of weights) if (w > 0) logs += Math.log(w);
  return 0.5 * (logs - n * (Math.log(2 * Math.PI) + 1 + Math.log(rss / n)));
}

function leverageOf(qr: HouseholderQr, rows: number): Float64Array {
  const out = new Float64Array(rows);
  for (let k = 0; k < qr.rank; k++) {
    const unit = new Float64Array(rows);
    unit[k] = 1;
    const column = applyQ(qr, unit);
    for (let i = 0; i < rows; i++) out[i]! += column[i]! ** 2;
  }
  return out;
}

function totalSquares(y: ArrayLike<number>, weights: Float64Array | null, about: boolean): number {
  const values = Array.from(y);
  const w = (i: number) => (weights === null ? 1 : weights[i]!);
  if (!about) return compensatedSum(values.map((v, i) => w(i) * v * v));
  const total = compensatedSum(values.map((_, i) => w(i)));
  const rough = compensatedSum(values.map((v, i) => w(i) * v)) / total;
  const shift = compensatedSum(values.map((v, i) => w(i) * (v - rough))) / total;
  return compensatedSum(values.map((v, i) => w(i) * (v - rough - shift) ** 2));
}

function hasConstantColumn(x: Matrix): boolean {
  for (let j = 0; j < x.cols; j++) {
    const first = x.data[j]!;
    let same = first !== 0;
    for (let i = 1; i < x.rows && same; i++) same = x.data[i * x.cols + j] === first;
    if (same) return true;
  }
  return false;
}

function scaleRows(x: Matrix, root: Float64Array): Matrix {
  const out = makeMatrix(x.rows, x.cols);
  for (let i = 0; i < x.rows; i++) {
    for (let j = 0; j < x.cols; j++) {
      out.data[i * x.cols + j] = x.data[i * x.cols + j]! * root[i]!;
    }
  }
  return out;
}

function requireFiniteInput(
  x: Matrix,
  y: ArrayLike<number>,
  weights: ArrayLike<number> | undefined,
): void {
  const where = "fitLinearModel";
  requireNumbers(where, "the responses", y, x.rows);
  if (weights !== undefined) {
    requireNumbers(where, "weights", weights, x.rows);
    const low = Array.prototype.findIndex.call(weights, (w: number) => w < 0);
    if (low >= 0) {
      throw new UsageError({
        needed: "weights of 0 or more",
        came: `weight ${low} was ${weights[low]}`,
        where,
        todo: "A weight of 0 leaves its row out.",
      });
    }
  }
  const bad = x.data.findIndex((v) => !Number.isFinite(v));
  if (bad >= 0) {
    throw new UsageError({
      needed: "a finite design",
      came: `row ${Math.floor(bad / x.cols)} holds ${x.data[bad]}`,
      where,
      todo: "Leave incomplete rows out, with a count, before fitting.",
    });
  }
}
