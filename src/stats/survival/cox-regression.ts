import { UsageError } from "../../core/usage-error.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { normalCumulative } from "../distributions/normal.js";
import { choleskyFactor, invertFromCholesky, solveCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix, quadraticForm } from "../linear-algebra/matrix.js";
import { type Concordance, concordance } from "./concordance.js";
import { type BaselineHazard, coxHazards } from "./cox-hazards.js";
import { type Ties, walkEventTimes } from "./cox-risk-sets.js";
import { requireSurvivalData, type SurvivalData } from "./survival-data.js";

export interface CoxOptions {
  readonly ties?: Ties;
  /** Rows of one stratum share a baseline hazard. */
  readonly strata?: readonly string[];
  readonly maxIterations?: number;
}

export interface ChiSquaredTest {
  readonly chiSquared: number;
  readonly df: number;
  readonly p: number;
}

export interface CoxRegression {
  readonly status: "converged" | "did-not-converge" | "not-identified";
  /** Log hazard ratio per unit of each column. */
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly (number | null)[];
  readonly pValues: readonly (number | null)[];
  readonly covariance: Matrix | null;
  readonly logLikelihood: { readonly null: number; readonly fitted: number };
  readonly likelihoodRatio: ChiSquaredTest;
  readonly wald: ChiSquaredTest | null;
  readonly score: ChiSquaredTest | null;
  readonly n: number;
  readonly events: number;
  readonly iterations: number;
  readonly ties: Ties;
  readonly concordance: Concordance;
  /** Event mark minus the expected number of events; empty for exact ties. */
  readonly martingaleResiduals: Float64Array;
  /** Cumulative hazard at covariates 0 after each event time, per stratum; empty for exact ties. */
  readonly baseline: readonly BaselineHazard[];
}

/**
 * Cox's proportional hazards regression on the columns of x (n x p, no constant),
 * with delayed entry and strata. Newton's method with step halving. Sources:
 * D. R. Cox (1972); B. Efron (1977) for ties.
 *
 * A coefficient that runs off without bound (all events on one side) is reported
 * as `"not-identified"` or `"did-not-converge"`, never as a plain estimate.
 *
 * @throws UsageError when rows do not match or nothing happened.
 * @example coxRegression({ time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }, matrixFromRows([[1], [0], [1], [0], [1], [0]])).coefficients[0] // 0.273948
 */
export function coxRegression(
  data: SurvivalData,
  x: Matrix,
  options: CoxOptions = {},
): CoxRegression {
  requireSurvivalData("coxRegression", data);
  const { ties = "efron", strata, maxIterations = 50 } = options;
  const n = data.time.length;
  const p = x.cols;
  const events = Array.from(data.event, Boolean).filter(Boolean).length;
  if (x.rows !== n || events === 0 || x.data.some((v) => !Number.isFinite(v))) {
    throw new UsageError({
      needed: `${n} rows of finite covariates and at least one event`,
      came: `${x.rows} rows and ${events} events came`,
      where: "coxRegression",
      todo: "Leave incomplete rows out, with a count.",
    });
  }
  const names = strata === undefined ? ["all"] : [...new Set(strata)];
  const layer = Array.from({ length: n }, (_, i) =>
    strata === undefined ? 0 : names.indexOf(strata[i]!),
  );
  const centred = centreColumns(x);
  const at = (beta: ArrayLike<number>) => {
    const eta = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < p; j++) eta[i]! += centred.data[i * p + j]! * beta[j]!;
    }
    let value = 0;
    const u = new Float64Array(p);
    const info = makeMatrix(p, p);
    walkEventTimes(data, centred, layer, eta, ties, (e) => {
      value += e.logLikelihood;
      for (let j = 0; j < p; j++) u[j]! += e.score[j]!;
      for (let j = 0; j < p * p; j++) info.data[j]! += e.information[j]!;
    });
    return { value, u, info };
  };
  let beta = new Float64Array(p);
  const start = at(beta);
  let here = start;
  let status: CoxRegression["status"] = "did-not-converge";
  let iterations = 0;
  while (iterations < maxIterations) {
    iterations++;
    const l = choleskyFactor(here.info, 1e-12);
    if (l === null) {
      status = "not-identified";
      break;
    }
    const step = solveCholesky(l, here.u);
    let shrink = 1;
    let next = at(beta.map((b, j) => b + step[j]!));
    while (!(next.value >= here.value - 1e-9 * Math.abs(here.value)) && shrink > 1e-6) {
      shrink /= 2;
      next = at(beta.map((b, j) => b + shrink * step[j]!));
    }
    beta = beta.map((b, j) => b + shrink * step[j]!);
    const decrement = step.reduce((s, v, j) => s + v * here.u[j]!, 0);
    here = next;
    if (
      decrement < 1e-18 * Math.max(1, Math.abs(next.value)) ||
      (shrink === 1 && decrement < 1e-20)
    ) {
      status = "converged";
      break;
    }
    if (decrement < 1e-12 && step.every((v, j) => Math.abs(v) < 1e-13 * (1 + Math.abs(beta[j]!)))) {
      status = "converged";
      break;
    }
  }
  const l = choleskyFactor(here.info, 1e-12);
  const covariance = l === null ? null : invertFromCholesky(l);
  if (covariance === null) status = "not-identified";
  // A log hazard ratio whose effect over the data's range exceeds e^20 has run off.
  if (status === "converged" && runsOff(centred, beta)) status = "not-identified";
  const standardErrors = Array.from(beta, (_, j) =>
    covariance === null ? null : Math.sqrt(covariance.data[j * p + j]!),
  );
  const lp = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < p; j++) lp[i]! += centred.data[i * p + j]! * beta[j]!;
  }
  const shift = columnMeans(x).reduce((s, m, j) => s + m * beta[j]!, 0);
  const { residuals, baseline } = coxHazards(data, centred, layer, lp, ties, shift, names);
  const startFactor = choleskyFactor(start.info, 1e-12);
  const scoreValue =
    startFactor === null
      ? null
      : start.u.reduce((s, v, j) => s + v * solveCholesky(startFactor, start.u)[j]!, 0);
  return {
    status,
    coefficients: Array.from(beta),
    standardErrors,
    pValues: standardErrors.map((se, j) =>
      se === null ? null : Math.min(1, 2 * normalCumulative(-Math.abs(beta[j]! / se))),
    ),
    covariance,
    logLikelihood: { null: start.value, fitted: here.value },
    likelihoodRatio: chiSquaredTest(2 * (here.value - start.value), p),
    wald: covariance === null ? null : chiSquaredTest(quadraticForm(here.info, beta), p),
    score: scoreValue === null ? null : chiSquaredTest(scoreValue, p),
    n,
    events,
    iterations,
    ties,
    concordance: concordance(data, lp, layer),
    martingaleResiduals: residuals,
    baseline,
  };
}

function chiSquaredTest(value: number, df: number): ChiSquaredTest {
  return { chiSquared: value, df, p: chiSquaredCumulative(Math.max(0, value), df, "upper") };
}

function columnMeans(x: Matrix): number[] {
  return Array.from({ length: x.cols }, (_, j) => {
    let s = 0;
    for (let i = 0; i < x.rows; i++) s += x.data[i * x.cols + j]!;
    return s / x.rows;
  });
}

/** Covariates about their means: the likelihood does not change and exponents stay small. */
function centreColumns(x: Matrix): Matrix {
  const means = columnMeans(x);
  return makeMatrix(
    x.rows,
    x.cols,
    x.data.map((v, k) => v - means[k % x.cols]!),
  );
}

function runsOff(x: Matrix, beta: Float64Array): boolean {
  return beta.some((b, j) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < x.rows; i++) {
      low = Math.min(low, x.data[i * x.cols + j]!);
      high = Math.max(high, x.data[i * x.cols + j]!);
    }
    return Math.abs(b) * (high - low) > 20;
  });
}
