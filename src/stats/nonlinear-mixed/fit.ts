import { type Notice, notice } from "../../core/notice.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { invertFromFactor } from "../linear-algebra/small-matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import type { LikelihoodMethod } from "../linear-mixed/blocks.js";
import { countFactorParameters, productWithTranspose } from "../linear-mixed/covariance.js";
import type { RandomEstimates } from "../linear-mixed/fit.js";
import type { ResidualEstimates } from "../linear-mixed/residual.js";
import type { NonlinearMixedEngine } from "./engine.js";

export type NonlinearMixedStatus =
  | "converged"
  | "no-start"
  | "effects-not-settled"
  | "variances-not-settled"
  | "not-identified"
  | "outside-domain";

export interface NonlinearMixedFit {
  readonly method: LikelihoodMethod;
  readonly n: number;
  readonly groups: number;
  readonly fixed: {
    readonly names: readonly string[];
    /** On a log scale for parameters kept positive. */
    readonly estimates: readonly number[];
    readonly standardErrors: readonly number[];
    readonly covariance: readonly (readonly number[])[];
  };
  readonly random: RandomEstimates;
  readonly sigma: number;
  /** Sigma with the power of the mean taken over its geometric mean; equals sigma without a power. */
  readonly workingSigma: number;
  readonly residual: ResidualEstimates | null;
  /** Of the linearised model (Lindstrom and Bates). */
  readonly logLikelihood: number;
  readonly parameters: number;
  readonly aic: number;
  readonly bic: number;
  readonly status: NonlinearMixedStatus;
  readonly singular: boolean;
  readonly notices: readonly Notice[];
  readonly iterations: number;
  /** Change of the variance parameters in the last round, relative. */
  readonly change: number;
  /** Relative slope of the linearised likelihood at the end. */
  readonly slope: number;
  readonly fitted: readonly number[];
  /** Free variance parameters and working units, for what follows a fit. */
  readonly theta: readonly number[];
  readonly scale: readonly number[];
  readonly engine: NonlinearMixedEngine;
}

/** How the search for a fit ended. */
export interface NonlinearSearch {
  readonly x: Float64Array;
  readonly status: NonlinearMixedStatus;
  readonly iterations: number;
  readonly change: number;
  readonly slope: number;
}

/** Puts a fit into words and numbers at the variance parameters `x` and the engine's effects. */
export function describeNonlinearFit(
  engine: NonlinearMixedEngine,
  method: LikelihoodMethod,
  x: Float64Array,
  search: NonlinearSearch,
): NonlinearMixedFit {
  const { model, objective, profile, scale } = engine;
  const { n, p, q, groups, residual } = model;
  engine.penalised(x);
  engine.linearise();
  const deviance = objective.deviance(x, method, null);
  const looked = search.status !== "converged" && search.status !== "no-start";
  const confounded = looked ? confoundedColumns(engine) : [];
  const status = confounded.length > 0 ? "not-identified" : search.status;
  const sigma2 = profile.rss / (method === "ML" ? n : n - p);
  const factor = sigma2 * (method === "ML" ? n / (n - p) : 1);
  const inverse = new Float64Array(p * p);
  invertFromFactor(profile.xFactor, p, inverse);
  const covariance = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (__, j) => inverse[i * p + j]! * factor),
  );
  const relative = productWithTranspose(objective.factors[0]!, q);
  const psi = Array.from({ length: q }, (_, i) =>
    Array.from({ length: q }, (__, j) => relative[i * q + j]! * scale[i]! * scale[j]! * sigma2),
  );
  const sd = psi.map((row, i) => Math.sqrt(row[i]!));
  const predictions = profile.effectCovariances(inverse)[0]!;
  const names = Array.from(model.random, (j) => model.parameters[j]!);
  const notices: Notice[] = [];
  const eigen = symmetricEigen(makeMatrix(q, q, relative)).values;
  const singular = status === "converged" && Math.sqrt(Math.max(0, eigen[q - 1]!)) < 1e-4;
  if (singular) {
    const zero = names.filter((_, i) => Math.sqrt(relative[i * q + i]!) < 1e-4);
    notices.push(
      notice("mixed-singular", "caution", {
        level: "group",
        effects: zero.length > 0 ? zero : names,
        kind: zero.length > 0 ? "variance zero" : "correlation one",
        groups,
      }),
    );
  }
  const estimates = residual?.estimates(x, objective.thetaCount) ?? null;
  if (estimates !== null && estimates.phiAtBoundary !== "none") {
    notices.push(
      notice("mixed-serial-boundary", "caution", {
        phi: estimates.phi!,
        boundary: estimates.phiAtBoundary,
      }),
    );
  }
  if (status !== "converged") {
    notices.push(
      notice(`mixed-nonlinear-${status}`, "problem", {
        parameters: confounded,
        iterations: search.iterations,
        change: Number.isFinite(search.change) ? search.change : null,
      }),
    );
  }
  const logLikelihood = -deviance / 2;
  const parameters = p + countFactorParameters(model.shape, q) + (residual?.count ?? 0) + 1;
  const fitted = new Array<number>(n);
  for (let i = 0; i < n; i++) fitted[model.order[i]!] = engine.fitted[i]!;
  return {
    method,
    n,
    groups,
    fixed: {
      names: model.fixedNames,
      estimates: Array.from(engine.beta),
      standardErrors: covariance.map((row, i) => Math.sqrt(row[i]!)),
      covariance,
    },
    random: {
      level: "group",
      names,
      covariance: psi,
      sd,
      correlation: psi.map((row, i) =>
        row.map((v, j) => (sd[i]! > 0 && sd[j]! > 0 ? v / (sd[i]! * sd[j]!) : null)),
      ),
      groups: model.labels,
      effects: model.labels.map((_, g) => Array.from(engine.b.subarray(g * q, (g + 1) * q))),
      effectStandardErrors: model.labels.map((_, g) =>
        names.map((__, i) => scale[i]! * Math.sqrt(predictions[(g * q + i) * q + i]! * sigma2)),
      ),
    },
    sigma: Math.sqrt(sigma2) * (residual?.sigmaFactor(x, objective.thetaCount) ?? 1),
    workingSigma: Math.sqrt(sigma2),
    residual: estimates,
    logLikelihood,
    parameters,
    aic: 2 * parameters - 2 * logLikelihood,
    bic: parameters * Math.log(method === "ML" ? n : n - p) - 2 * logLikelihood,
    status,
    singular,
    notices,
    iterations: search.iterations,
    change: search.change,
    slope: search.slope,
    fitted,
    theta: Array.from(x),
    scale: Array.from(scale),
    engine,
  };
}

/** Fixed coefficients whose effects on the mean cannot be told apart where the search ended. */
function confoundedColumns(engine: NonlinearMixedEngine): string[] {
  const { model, rows } = engine;
  const { n, p, q } = model;
  const width = q + p + 1;
  const gram = makeMatrix(p, p);
  for (let i = 0; i < n; i++) {
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) {
        gram.data[a * p + b]! += rows[i * width + q + a]! * rows[i * width + q + b]!;
      }
    }
  }
  const size = Array.from({ length: p }, (_, a) => Math.sqrt(gram.data[a * p + a]!));
  if (size.some((v) => !(v > 0) || !Number.isFinite(v))) {
    return model.fixedNames.filter((_, a) => !(size[a]! > 0) || !Number.isFinite(size[a]!));
  }
  for (let a = 0; a < p; a++)
    for (let b = 0; b < p; b++) gram.data[a * p + b]! /= size[a]! * size[b]!;
  const { values, vectors } = symmetricEigen(gram);
  const named = new Set<number>();
  for (let e = 0; e < p; e++) {
    if (values[e]! > 1e-9) continue;
    for (let a = 0; a < p; a++) if (Math.abs(vectors.data[a * p + e]!) > 0.25) named.add(a);
  }
  return model.fixedNames.filter((_, a) => named.has(a));
}
