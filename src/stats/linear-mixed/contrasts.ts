import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { fCumulative } from "../distributions/f.js";
import { studentTQuantile, studentTTwoSided } from "../distributions/student-t.js";
import { choleskyFactor, solveCholesky } from "../linear-algebra/cholesky.js";
import {
  makeMatrix,
  matrixFromRows,
  multiplyMatrices,
  transposeMatrix,
} from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import { containmentDf } from "./containment.js";
import type { LinearMixedFit } from "./fit-linear-mixed.js";
import { type KenwardRogerBasis, kenwardRogerBasis, kenwardRogerDf } from "./kenward-roger.js";
import {
  combineSatterthwaite,
  type SatterthwaiteBasis,
  satterthwaiteBasis,
  satterthwaiteDf,
} from "./satterthwaite.js";

/**
 * How denominator degrees of freedom are found. "best" is Kenward-Roger where it
 * holds (REML, independent residuals, blocks of moderate size), else
 * Satterthwaite; what was used is in the answer.
 */
export type DfMethod = "best" | "kenward-roger" | "satterthwaite" | "containment" | "normal";

/** The fit with what its degrees of freedom need, so that many contrasts share the work. */
export interface MixedInference {
  readonly fit: LinearMixedFit;
  readonly df: Exclude<DfMethod, "best">;
  readonly satterthwaite: SatterthwaiteBasis | null;
  readonly kenwardRoger: KenwardRogerBasis | null;
}

/** Prepares tests on a fit. @example prepareInference(fit).df // "kenward-roger" */
export function prepareInference(fit: LinearMixedFit, method: DfMethod = "best"): MixedInference {
  const allowed = fit.method === "REML" && fit.engine.residual === null && fit.n <= 20_000;
  const df = method === "best" ? (allowed ? "kenward-roger" : "satterthwaite") : method;
  return {
    fit,
    df,
    satterthwaite: df === "satterthwaite" ? satterthwaiteBasis(fit) : null,
    kenwardRoger: df === "kenward-roger" ? kenwardRogerBasis(fit) : null,
  };
}

export interface ContrastEstimate {
  readonly estimate: number;
  readonly se: number;
  readonly df: number;
  readonly t: number;
  readonly p: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * One linear combination of the fixed effects with t test and interval.
 *
 * @param row one weight per column of the fixed design
 * @throws UsageError when the combination involves a column that was left out as aliased.
 * @example
 * const plot = [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], day = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
 * const ones = day.map(() => 1), response = [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9];
 * const levels = [{ name: "plot", group: plot, names: ["one"], columns: [ones] }];
 * const fit = fitLinearMixed({ response, fixed: { names: ["one", "day"], columns: [ones, day] }, levels });
 * estimateContrast(prepareInference(fit), [0, 1]).estimate // 1.75
 */
export function estimateContrast(
  inference: MixedInference,
  row: ArrayLike<number>,
  level = 0.95,
): ContrastEstimate {
  const { fit } = inference;
  const l = keptRow(fit, row);
  const beta = keptEstimates(fit);
  const covariance = inference.kenwardRoger?.covariance ?? fit.fixed.covariance;
  let estimate = 0;
  let variance = 0;
  for (let i = 0; i < l.length; i++) {
    estimate += l[i]! * beta[i]!;
    for (let j = 0; j < l.length; j++) variance += l[i]! * covariance[i]![j]! * l[j]!;
  }
  const se = Math.sqrt(variance);
  const df =
    inference.df === "satterthwaite"
      ? satterthwaiteDf(fit, inference.satterthwaite!, l)
      : inference.df === "kenward-roger"
        ? kenwardRogerDf(inference.kenwardRoger!, [l]).df
        : inference.df === "containment"
          ? containmentDf(fit).forContrast(l)
          : Number.POSITIVE_INFINITY;
  const t = estimate / se;
  const q = studentTQuantile((1 + level) / 2, df);
  return {
    estimate,
    se,
    df,
    t,
    p: studentTTwoSided(t, df),
    lower: estimate - q * se,
    upper: estimate + q * se,
  };
}

export interface MixedFTest {
  readonly f: number;
  readonly numeratorDf: number;
  readonly denominatorDf: number;
  readonly p: number;
}

/**
 * F test that all the given combinations are zero; rows that repeat others are dropped.
 *
 * @example
 * const plot = [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], day = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
 * const ones = day.map(() => 1), response = [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9];
 * const levels = [{ name: "plot", group: plot, names: ["one"], columns: [ones] }];
 * const fit = fitLinearMixed({ response, fixed: { names: ["one", "day"], columns: [ones, day] }, levels });
 * testContrasts(prepareInference(fit), [[0, 1]]).f // 79.1538
 */
export function testContrasts(
  inference: MixedInference,
  rows: readonly ArrayLike<number>[],
): MixedFTest {
  const { fit } = inference;
  const l = independentRows(rows.map((r) => keptRow(fit, r)));
  const q = l.length;
  const beta = keptEstimates(fit);
  const covariance = matrixFromRows(inference.kenwardRoger?.covariance ?? fit.fixed.covariance);
  const lm = matrixFromRows(l);
  const middle = multiplyMatrices(multiplyMatrices(lm, covariance), transposeMatrix(lm));
  const value = Float64Array.from(l, (row) => row.reduce((s, v, i) => s + v * beta[i]!, 0));
  const factor = choleskyFactor(middle);
  if (factor === null) {
    throw new UsageError({
      needed: "combinations that do not repeat each other",
      came: "their covariance is singular",
      where: "testContrasts",
      todo: "Leave out combinations that follow from the others.",
    });
  }
  const solved = solveCholesky(factor, value);
  let f = value.reduce((s, v, i) => s + v * solved[i]!, 0) / q;
  let df: number;
  if (inference.df === "kenward-roger") {
    const kr = kenwardRogerDf(inference.kenwardRoger!, l);
    df = kr.df;
    f *= kr.scale;
  } else if (inference.df === "satterthwaite") {
    const { vectors } = symmetricEigen(middle);
    df = combineSatterthwaite(
      Array.from({ length: q }, (_, k) => {
        const row = new Float64Array(lm.cols);
        for (let i = 0; i < q; i++)
          for (let j = 0; j < lm.cols; j++) row[j]! += vectors.data[i * q + k]! * l[i]![j]!;
        return satterthwaiteDf(fit, inference.satterthwaite!, row);
      }),
    );
  } else if (inference.df === "containment") {
    const containment = containmentDf(fit);
    df = Math.min(...l.map((row) => containment.forContrast(row)));
  } else df = Number.POSITIVE_INFINITY;
  const p =
    df === Number.POSITIVE_INFINITY
      ? chiSquaredCumulative(f * q, q, "upper")
      : fCumulative(f, q, df, "upper");
  return { f, numeratorDf: q, denominatorDf: df, p };
}

/**
 * Likelihood-ratio test of two nested fits on the same rows. Fits that differ in
 * fixed effects must both be ML. Where a variance is zero under the smaller
 * model the p-value is conservative (the boundary); `boundary` says so.
 *
 * @example
 * const plot = [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], day = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
 * const ones = day.map(() => 1), response = [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9];
 * const levels = [{ name: "plot", group: plot, names: ["one"], columns: [ones] }];
 * const of = (fixed) => fitLinearMixed({ response, fixed, levels }, { method: "ML" });
 * const flat = of({ names: ["one"], columns: [ones] });
 * likelihoodRatioTest(flat, of({ names: ["one", "day"], columns: [ones, day] })).statistic // 20.0818
 */
export function likelihoodRatioTest(
  smaller: LinearMixedFit,
  larger: LinearMixedFit,
): {
  readonly statistic: number;
  readonly df: number;
  readonly p: number;
  readonly boundary: boolean;
} {
  const sameFixed = smaller.fixed.kept.length === larger.fixed.kept.length;
  if (
    smaller.n !== larger.n ||
    smaller.method !== larger.method ||
    (smaller.method === "REML" && !sameFixed)
  ) {
    throw new UsageError({
      needed: "two nested fits on the same rows, by ML when their fixed effects differ",
      came: `${smaller.n} rows by ${smaller.method} and ${larger.n} rows by ${larger.method}`,
      where: "likelihoodRatioTest",
      todo: "Refit both by ML on the same rows.",
    });
  }
  const statistic = Math.max(0, 2 * (larger.logLikelihood - smaller.logLikelihood));
  const df = larger.parameters - smaller.parameters;
  const boundary = larger.theta.length > smaller.theta.length;
  return { statistic, df, p: chiSquaredCumulative(statistic, df, "upper"), boundary };
}

function keptEstimates(fit: LinearMixedFit): number[] {
  return fit.fixed.kept.map((c) => fit.fixed.estimates[c]!);
}

function keptRow(fit: LinearMixedFit, row: ArrayLike<number>): Float64Array {
  requireNumbers("estimateContrast", "the weights", row, fit.fixed.names.length);
  fit.engine.aliased.forEach((c) => {
    if (Math.abs(row[c]!) > 1e-10) {
      throw new UsageError({
        needed: "a combination the data can estimate",
        came: `it uses "${fit.fixed.names[c]}", which is a combination of other columns`,
        where: "estimateContrast",
        todo: "Leave that column out of the design or choose another combination.",
      });
    }
  });
  return Float64Array.from(fit.fixed.kept, (c) => row[c]!);
}

function independentRows(rows: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  const out: Float64Array[] = [];
  for (const row of rows) {
    const left = Float64Array.from(row);
    for (let pass = 0; pass < 2; pass++) {
      for (const b of basis) {
        const s = left.reduce((t, v, i) => t + v * b[i]!, 0);
        for (let i = 0; i < left.length; i++) left[i]! -= s * b[i]!;
      }
    }
    const norm = Math.hypot(...left);
    if (!(norm > 1e-9 * Math.hypot(...row))) continue;
    basis.push(left.map((v) => v / norm));
    out.push(row);
  }
  return out.length > 0 ? out : [...rows.slice(0, 1)];
}

/** Sequential F tests: each term's rows in the order of the design, given those before it. */
export function sequentialRows(fit: LinearMixedFit): Float64Array[] {
  const p = fit.fixed.kept.length;
  const covariance = matrixFromRows(fit.fixed.covariance);
  const factor = choleskyFactor(covariance)!;
  const information = makeMatrix(p, p);
  for (let c = 0; c < p; c++) {
    const e = new Float64Array(p);
    e[c] = 1;
    information.data.set(solveCholesky(factor, e), c * p);
  }
  const upper = transposeMatrix(choleskyFactor(information)!);
  return Array.from({ length: p }, (_, i) => {
    const row = new Float64Array(fit.fixed.names.length);
    fit.fixed.kept.forEach((c, k) => {
      row[c] = upper.data[i * p + k]!;
    });
    return row;
  });
}
