import { type Notice, notice } from "../../core/notice.js";
import { solveUpperTriangular } from "../linear-algebra/cholesky.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { invertFromFactor, solveUpperInPlace } from "../linear-algebra/small-matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import type { SmoothMinimum } from "../numeric/minimise-smooth.js";
import type { LikelihoodMethod } from "./blocks.js";
import { productWithTranspose } from "./covariance.js";
import type { LinearMixedData } from "./data.js";
import type { LinearMixedEngine } from "./engine.js";
import type { ResidualEstimates } from "./residual.js";

/** Estimates of one grouping level's random effects. */
export interface RandomEstimates {
  readonly level: string;
  readonly names: readonly string[];
  readonly covariance: readonly (readonly number[])[];
  readonly sd: readonly number[];
  /** `null` where a standard deviation is zero. */
  readonly correlation: readonly (readonly (number | null)[])[];
  readonly groups: readonly string[];
  /** Best linear unbiased predictions, one row per group. */
  readonly effects: readonly (readonly number[])[];
  /** Standard errors of prediction (of effect minus its prediction), one row per group. */
  readonly effectStandardErrors: readonly (readonly number[])[];
}

export interface LinearMixedFit {
  readonly method: LikelihoodMethod;
  readonly n: number;
  readonly fixed: {
    readonly names: readonly string[];
    /** `null` for a column that is a combination of earlier ones. */
    readonly estimates: readonly (number | null)[];
    readonly standardErrors: readonly (number | null)[];
    /** Covariance of the kept estimates, in the order of `kept`. */
    readonly covariance: readonly (readonly number[])[];
    readonly kept: readonly number[];
  };
  /** Outermost level first. */
  readonly random: readonly RandomEstimates[];
  readonly sigma: number;
  /** Sigma with the power of the mean taken over its geometric mean; equals sigma without a power. */
  readonly workingSigma: number;
  readonly residual: ResidualEstimates | null;
  readonly logLikelihood: number;
  /** Fixed coefficients, variance parameters and sigma. */
  readonly parameters: number;
  readonly aic: number;
  readonly bic: number;
  /** In input order, with all random effects. */
  readonly fitted: readonly number[];
  readonly status: "converged" | "not converged" | "failed";
  readonly singular: boolean;
  readonly notices: readonly Notice[];
  readonly evaluations: number;
  /** Relative slope left at the end. */
  readonly slope: number;
  /** Free variance parameters at the optimum, for the tests that follow a fit. */
  readonly theta: readonly number[];
  readonly engine: LinearMixedEngine;
}

/** Fitted values with all effects, in working order, from unwhitened rows. */
export function fittedInWorkingOrder(
  engine: LinearMixedEngine,
  parameters: Float64Array,
  method: LikelihoodMethod,
  out: Float64Array,
): Float64Array {
  engine.deviance(parameters, method, null);
  const { profile, rows, width, n, levels, gamma0, starts } = engine;
  const p = profile.beta.length;
  const working = workingEffects(engine);
  const zWidth = width - p - 1;
  for (let i = 0; i < n; i++) {
    let s = 0;
    for (let k = 0; k < p; k++)
      s += rows[i * width + zWidth + k]! * (gamma0[k]! + profile.beta[k]!);
    out[i] = s;
  }
  for (let g = 0; g + 1 < starts.length && levels.length > 0; g++) {
    for (let i = starts[g]!; i < starts[g + 1]!; i++) {
      let at = i * width;
      let group = g;
      for (let k = 0; k < levels.length; k++) {
        const { q, parent } = levels[k]!;
        for (let j = 0; j < q; j++) out[i]! += rows[at + j]! * working[k]![group * q + j]!;
        at += q;
        group = parent[group]!;
      }
    }
  }
  return out;
}

/** L u for each level, innermost first, after an evaluation. */
function workingEffects(engine: LinearMixedEngine): Float64Array[] {
  return engine.profile.effects().map((u, k) => {
    const { q, groups } = engine.levels[k]!;
    const l = engine.factors[k]!;
    const out = new Float64Array(groups * q);
    for (let g = 0; g < groups; g++) {
      for (let i = 0; i < q; i++) {
        for (let j = 0; j <= i; j++) out[g * q + i]! += l[i * q + j]! * u[g * q + j]!;
      }
    }
    return out;
  });
}

/** Puts a fit into numbers and notices at the optimum found. */
export function describeFit(
  data: LinearMixedData,
  engine: LinearMixedEngine,
  method: LikelihoodMethod,
  result: SmoothMinimum,
): LinearMixedFit {
  const { n, kept, profile, residual, thetaCount } = engine;
  const p = kept.length;
  const fittedSorted = fittedInWorkingOrder(engine, result.x, method, new Float64Array(n));
  const deviance = engine.deviance(result.x, method, null);
  const sigma2 = profile.rss / (method === "ML" ? n : n - p);
  const factor = method === "ML" ? n / (n - p) : 1;
  const { beta, covariance } = fixedEstimates(engine, sigma2 * factor);
  const scatter = <T>(values: readonly T[]): (T | null)[] => {
    const out: (T | null)[] = data.fixed.columns.map(() => null);
    kept.forEach((c, k) => {
      out[c] = values[k]!;
    });
    return out;
  };
  const estimates = residual?.estimates(result.x, thetaCount) ?? null;
  const notices: Notice[] = [];
  const random = engine.levels.map((_, k) => describeLevel(engine, k, sigma2, notices)).reverse();
  const singular = notices.length > 0;
  notices.push(...doubtfulDesign(data, engine));
  if (engine.aliased.length > 0) {
    notices.push(
      notice("mixed-aliased-columns", "caution", {
        columns: engine.aliased.map((c) => data.fixed.names[c]!),
      }),
    );
  }
  if (estimates !== null && estimates.phiAtBoundary !== "none") {
    notices.push(
      notice("mixed-serial-boundary", "caution", {
        phi: estimates.phi!,
        boundary: estimates.phiAtBoundary,
      }),
    );
  }
  const finite = Number.isFinite(deviance);
  const status = !finite ? "failed" : result.converged ? "converged" : "not converged";
  if (status !== "converged") {
    notices.push(
      notice("mixed-not-converged", "problem", {
        slope: result.slope,
        evaluations: result.evaluations,
      }),
    );
  }
  const logLikelihood = -deviance / 2;
  const parameters = p + thetaCount + (residual?.count ?? 0) + 1;
  const fitted = new Array<number>(n);
  for (let i = 0; i < n; i++) fitted[engine.order[i]!] = fittedSorted[i]!;
  return {
    method,
    n,
    fixed: {
      names: data.fixed.names,
      estimates: scatter(beta),
      standardErrors: scatter(covariance.map((row, k) => Math.sqrt(row[k]!))),
      covariance,
      kept,
    },
    random,
    sigma: Math.sqrt(sigma2) * (residual?.sigmaFactor(result.x, thetaCount) ?? 1),
    workingSigma: Math.sqrt(sigma2),
    residual: estimates,
    logLikelihood,
    parameters,
    aic: 2 * parameters - 2 * logLikelihood,
    bic: parameters * Math.log(method === "ML" ? n : n - p) - 2 * logLikelihood,
    fitted,
    status,
    singular,
    notices,
    evaluations: result.evaluations,
    slope: result.slope,
    theta: Array.from(result.x),
    engine,
  };
}

/** What a design says that its maker may not have meant. */
function doubtfulDesign(data: LinearMixedData, engine: LinearMixedEngine): Notice[] {
  const out: Notice[] = [];
  if (data.fixed.columns.length > 0 && !holdsConstant(engine)) {
    out.push(notice("mixed-no-intercept", "caution"));
  }
  engine.levels.forEach((level, k) => {
    const rows = k === 0 ? engine.n : engine.levels[k - 1]!.groups;
    if (level.groups === 1 && level.shape !== "identity") {
      out.push(notice("mixed-one-group", "caution", { level: level.name }));
    } else if (level.groups === rows && rows > 1 && data.residual === undefined) {
      out.push(notice("mixed-one-row-a-group", "caution", { level: level.name, groups: rows }));
    }
  });
  return out;
}

/** Whether a column of ones is a combination of the fixed columns (Q Q'1 = 1). */
function holdsConstant(engine: LinearMixedEngine): boolean {
  const { n, rows, width, gamma0 } = engine;
  const p = gamma0.length;
  const first = width - p - 1;
  let explained = 0;
  for (let k = 0; k < p; k++) {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += rows[i * width + first + k]!;
    explained += sum * sum;
  }
  return Math.abs(explained - n) < 1e-8 * n;
}

/** Coefficients on the original columns and their covariance, s2 (X'V^-1X)^-1. */
export function fixedEstimates(
  engine: LinearMixedEngine,
  sigma2: number,
): { beta: number[]; covariance: number[][] } {
  const { r, gamma0, profile } = engine;
  const p = gamma0.length;
  const triangle = makeMatrix(p, p, r);
  const solveR = (v: Float64Array) => solveUpperTriangular(triangle, v);
  const beta = Array.from(solveR(gamma0.map((v, k) => v + profile.beta[k]!)));
  // Columns of R^-1 F^-T, F the factor of Q'V^-1Q: covariance is their outer product.
  const half: Float64Array[] = [];
  for (let c = 0; c < p; c++) {
    const e = new Float64Array(p);
    e[c] = 1;
    solveUpperInPlace(profile.xFactor, p, e);
    half.push(solveR(e));
  }
  const covariance = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (_, j) => {
      let s = 0;
      for (const h of half) s += h[i]! * h[j]!;
      return s * sigma2;
    }),
  );
  return { beta, covariance };
}

function describeLevel(
  engine: LinearMixedEngine,
  k: number,
  sigma2: number,
  notices: Notice[],
): RandomEstimates {
  const { q, groups, name, names, labels, transform: t } = engine.levels[k]!;
  const toOriginal = (a: Float64Array) => {
    const left = new Float64Array(q * q);
    const out = new Float64Array(q * q);
    for (let i = 0; i < q; i++)
      for (let j = 0; j < q; j++)
        for (let r = 0; r < q; r++) left[i * q + j]! += t[i * q + r]! * a[r * q + j]!;
    for (let i = 0; i < q; i++)
      for (let j = 0; j < q; j++)
        for (let r = 0; r < q; r++) out[i * q + j]! += left[i * q + r]! * t[j * q + r]!;
    return out;
  };
  const relative = productWithTranspose(engine.factors[k]!, q);
  const covariance = toOriginal(relative).map((v) => v * sigma2);
  const at = (i: number, j: number) => covariance[i * q + j]!;
  const sd = names.map((_, i) => Math.sqrt(at(i, i)));
  const eigen = symmetricEigen(makeMatrix(q, q, relative)).values;
  const smallest = Math.sqrt(Math.max(0, eigen[q - 1]!));
  if (smallest < 1e-4) {
    const effects = relativeZeroes(engine, k, names);
    notices.push(
      notice("mixed-singular", "caution", {
        level: name,
        effects: effects.length > 0 ? effects : [...names],
        kind: effects.length > 0 ? "variance zero" : "correlation one",
        groups,
      }),
    );
  }
  const working = workingEffects(engine)[k]!;
  const covariances = effectCovariances(engine)[k]!;
  const effects: number[][] = [];
  const effectStandardErrors: number[][] = [];
  for (let g = 0; g < groups; g++) {
    effects.push(
      names.map((_, i) => {
        let s = 0;
        for (let r = 0; r < q; r++) s += t[i * q + r]! * working[g * q + r]!;
        return s;
      }),
    );
    const c = toOriginal(covariances.subarray(g * q * q, (g + 1) * q * q));
    effectStandardErrors.push(names.map((_, i) => Math.sqrt(Math.max(0, c[i * q + i]! * sigma2))));
  }
  return {
    level: name,
    names,
    covariance: names.map((_, i) => names.map((__, j) => at(i, j))),
    sd,
    correlation: names.map((_, i) =>
      names.map((__, j) => (sd[i]! > 0 && sd[j]! > 0 ? at(i, j) / (sd[i]! * sd[j]!) : null)),
    ),
    groups: labels,
    effects,
    effectStandardErrors,
  };
}

/** Effects whose own standard deviation is nothing beside sigma. */
function relativeZeroes(engine: LinearMixedEngine, k: number, names: readonly string[]): string[] {
  const { q } = engine.levels[k]!;
  const l = engine.factors[k]!;
  return names.filter((_, i) => {
    let s = 0;
    for (let j = 0; j < q; j++) s += l[i * q + j]! ** 2;
    return Math.sqrt(s) < 1e-4;
  });
}

/** Covariance of (effect - prediction) over s2 in working units, each level, groups x q x q. */
function effectCovariances(engine: LinearMixedEngine): Float64Array[] {
  const { profile } = engine;
  const p = profile.beta.length;
  const root = new Float64Array(p * p);
  invertFromFactor(profile.xFactor, p, root);
  return profile.effectCovariances(root);
}
