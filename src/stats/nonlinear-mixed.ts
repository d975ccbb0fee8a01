import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import type { RandomEstimates } from "./linear-mixed.js";
import {
  countFactorParameters,
  parametersFromFactor,
  productWithTranspose,
} from "./linear-mixed-covariance.js";
import { minimiseSmooth, type SmoothMinimum } from "./linear-mixed-minimise.js";
import { invertSymmetric, type LikelihoodMethod } from "./linear-mixed-profile.js";
import type { ResidualEstimates } from "./linear-mixed-residual.js";
import { makeMatrix } from "./matrix.js";
import { makeNonlinearEngine, type NonlinearMixedEngine } from "./nonlinear-mixed-engine.js";
import { type NonlinearMixedData, prepareNonlinearMixed } from "./nonlinear-mixed-model.js";
import { pooledStart } from "./nonlinear-mixed-start.js";
import { symmetricEigen } from "./symmetric-eigen.js";

export interface NonlinearMixedOptions {
  readonly method?: LikelihoodMethod;
  /**
   * Starts: each one value per parameter of the mean (natural scale) or one per
   * fixed coefficient. The best after a pooled fit is used.
   */
  readonly starts: readonly ArrayLike<number>[];
  /** Random effects to start from, by group (parameters' own or log scale); zero elsewhere. */
  readonly effects?: Readonly<Record<string, readonly number[]>>;
  /** Improve the starts by a fit to all rows at once first (default true). */
  readonly pooled?: boolean;
  /** Free variance parameters of an earlier fit of the same model, to begin from. */
  readonly warm?: NonlinearMixedFit;
  readonly maxIterations?: number;
  /**
   * Under REML: "full" (default) maximises the restricted likelihood in every
   * variance parameter; "residual-only" settles the random-effect covariance by ML
   * and only the residual structure and sigma by REML, which is what nlme 3.1 does.
   */
  readonly restricted?: "full" | "residual-only";
}

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
    readonly se: readonly number[];
    readonly covariance: readonly (readonly number[])[];
  };
  readonly random: RandomEstimates;
  readonly sigma: number;
  /** Sigma with the power of the mean taken over its geometric mean; equals sigma without a power. */
  readonly workingSigma: number;
  readonly residual: ResidualEstimates | null;
  /** Of the linearised model (Lindstrom and Bates). */
  readonly logLik: number;
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

/**
 * Fits a nonlinear mixed model: a mean function whose parameters are fixed
 * effects, covariates and normal random effects of each group; residuals normal,
 * with the variance and correlation structures of the linear model.
 *
 * Likelihood: the linearised one of Lindstrom and Bates (1990), by alternating
 * penalised nonlinear least squares and a linear mixed model on the linearised
 * mean until both agree; the alternation is accelerated (Anderson 1965), its
 * fixed point is the same. Variances of zero are ordinary points of the search.
 * Standard errors under ML carry the factor n/(n-p) on the variance.
 *
 * @throws UsageError for wrong names, lengths or numbers that are not finite.
 * @example
 * // trunk circumference of 5 trees (Draper and Smith 1998), logistic, random asymptote, ML:
 * // 191.049, 722.556, 344.162; sd 31.4826, sigma 7.84626, log-likelihood -131.5846
 */
export function fitNonlinearMixed(
  data: NonlinearMixedData,
  options: NonlinearMixedOptions,
): NonlinearMixedFit {
  const method = options.method ?? "ML";
  const model = prepareNonlinearMixed(data);
  if (model.q === 0) {
    throw new UsageError({
      needed: "at least one parameter with random effects",
      came: "none",
      where: "fitNonlinearMixed",
      todo: "Name parameters in `random`, or fit the curve by least squares.",
    });
  }
  const { warm } = options;
  const beta =
    warm === undefined
      ? pooledStart(model, options.starts, options.pooled ?? true)
      : Float64Array.from(warm.fixed.estimates);
  const engine = makeNonlinearEngine(model, beta ?? new Float64Array(model.p));
  const size = engine.objective.thetaCount + (model.residual?.count ?? 0);
  if (beta === null) return describeNonlinearFit(engine, method, new Float64Array(size), noStart);
  const x = new Float64Array(size);
  if (warm === undefined) {
    beginVariances(engine, method, x);
    placeEffects(engine, x, options.effects ?? {});
  } else {
    engine.scale.set(warm.scale);
    x.set(warm.theta);
    if (engine.u.length === warm.engine.u.length) engine.u.set(warm.engine.u);
  }
  const search = alternate(engine, method, x, {
    maxIterations: options.maxIterations ?? 300,
    effectsByMl: method === "REML" && options.restricted === "residual-only",
  });
  return describeNonlinearFit(engine, method, search.x, search);
}

/** How the search for a fit ended. */
export interface NonlinearSearch {
  readonly x: Float64Array;
  readonly status: NonlinearMixedStatus;
  readonly iterations: number;
  readonly change: number;
  readonly slope: number;
}

const noStart: NonlinearSearch = {
  x: new Float64Array(0),
  status: "no-start",
  iterations: 0,
  change: Number.POSITIVE_INFINITY,
  slope: Number.POSITIVE_INFINITY,
};

/** Working units from the spread of each derivative, then a first linear fit at the pooled mean. */
function beginVariances(
  engine: NonlinearMixedEngine,
  method: LikelihoodMethod,
  x: Float64Array,
): void {
  const { model, objective, scale } = engine;
  const { q, n, p, residual } = model;
  if (residual !== null) x.set(residual.start, objective.thetaCount);
  engine.penalised(x);
  engine.updateVariance();
  engine.linearise();
  const width = q + p + 1;
  for (let j = 0; j < q; j++) {
    let s = 0;
    for (let i = 0; i < n; i++) s += engine.rows[i * width + j]! ** 2;
    scale[j] = s > 0 ? 1 / Math.sqrt(s / n) : 1;
  }
  engine.linearise();
  const factor = new Float64Array(q * q);
  let best = Number.POSITIVE_INFINITY;
  const chosen = Float64Array.from(x);
  for (const s of [0.1, 0.3, 1, 3, 10]) {
    for (let i = 0; i < q; i++) factor[i * q + i] = s;
    parametersFromFactor(model.shape, q, factor, x, 0);
    const value = objective.deviance(x, method, null);
    if (value < best) {
      best = value;
      chosen.set(x);
    }
  }
  x.set(chosen);
  const first = minimiseSmooth((at, g) => objective.deviance(at, method, g), x, {
    rough: true,
    tolerance: 1e-5,
  });
  // A variance that came out as zero here may well not be: leave it room to grow.
  x.set(first.x);
  let at = 0;
  for (let i = 0; i < q; i++) {
    at += model.shape === "general" ? i : 0;
    if (Math.abs(x[at]!) < 0.05) x[at] = 0.05;
    at++;
  }
  objective.deviance(x, method, null);
  engine.adoptLinear(x);
}

/** Starts chosen groups from given effects: u solves L u = b / scale. */
function placeEffects(
  engine: NonlinearMixedEngine,
  x: Float64Array,
  effects: Readonly<Record<string, readonly number[]>>,
): void {
  const { model, objective, scale, u } = engine;
  const { q } = model;
  objective.setFactors(x);
  const l = objective.factors[0]!;
  model.labels.forEach((label, g) => {
    const given = effects[label];
    if (given === undefined) return;
    for (let i = 0; i < q; i++) {
      let s = given[i]! / scale[i]!;
      for (let j = 0; j < i; j++) s -= l[i * q + j]! * u[g * q + j]!;
      u[g * q + i] = l[i * q + i] === 0 ? 0 : s / l[i * q + i]!;
    }
  });
}

function alternate(
  engine: NonlinearMixedEngine,
  method: LikelihoodMethod,
  start: Float64Array,
  options: { readonly maxIterations: number; readonly effectsByMl: boolean },
): NonlinearSearch {
  const { objective } = engine;
  const size = start.length;
  let x: Float64Array = Float64Array.from(start);
  let change = Number.POSITIVE_INFINITY;
  let slope = Number.POSITIVE_INFINITY;
  let status: NonlinearMixedStatus = "variances-not-settled";
  let unsettled = 0;
  let restless = 0;
  const history: { x: Float64Array; g: Float64Array }[] = [];
  let iterations = 0;
  for (; iterations < options.maxIterations; iterations++) {
    const settled = engine.settleEffects(x, method, change > 1e-4 ? 1e-7 : 1e-13);
    if (!Number.isFinite(engine.penalised(x)))
      return { x, status: "outside-domain", iterations, change, slope };
    unsettled = settled ? 0 : unsettled + 1;
    engine.updateVariance();
    engine.linearise();
    const fine = change < 1e-5;
    const step = varianceStep(engine, method, x, fine);
    slope = step.slope;
    if (options.effectsByMl) settleThetaByMl(engine, step.x);
    normaliseSigns(engine, step.x);
    const previous = change;
    change = 0;
    for (let k = 0; k < size; k++) {
      change = Math.max(change, Math.abs(step.x[k]! - x[k]!) / Math.max(0.05, Math.abs(x[k]!)));
    }
    objective.deviance(step.x, method, null);
    engine.adoptLinear(step.x);
    if (change < 1e-7 && settled && (fine || step.slope < 1e-6)) {
      x = Float64Array.from(step.x);
      status = step.slope < 1e-5 ? "converged" : "variances-not-settled";
      engine.settleEffects(x, method);
      break;
    }
    // A round that does not contract may be the start of a cycle: then only part of the
    // step is taken, less and less, until the rounds contract again.
    if (change > 0.6 * previous) restless++;
    const part = 0.5 ** Math.min(5, Math.floor(restless / 4));
    if (change > 2 * previous) history.length = 0;
    if (part < 1 && change > 0.05) {
      const from = x;
      x = Float64Array.from(step.x, (v, k) => from[k]! + part * (v - from[k]!));
      history.length = 0;
      continue;
    }
    history.push({ x, g: Float64Array.from(step.x) });
    if (history.length > 4) history.shift();
    x = change < 0.3 ? accelerated(history) : Float64Array.from(step.x);
    if (unsettled > 20) {
      status = "effects-not-settled";
      break;
    }
  }
  return { x, status, iterations, change, slope };
}

/**
 * The linear mixed model's part of a round. The likelihood is flat at a zero on
 * the diagonal of L for any data, so zeros are lifted before the search, and
 * what comes out next to nothing is set to zero where that costs nothing.
 */
function varianceStep(
  engine: NonlinearMixedEngine,
  method: LikelihoodMethod,
  x: Float64Array,
  fine: boolean,
): SmoothMinimum {
  const { objective } = engine;
  const { q, shape } = engine.model;
  const start = Float64Array.from(x);
  const diagonal = (i: number) => (shape === "general" ? (i * (i + 3)) / 2 : i);
  for (let i = 0; i < q; i++) {
    if (Math.abs(start[diagonal(i)]!) < 1e-3) start[diagonal(i)] = 0.02;
  }
  const step = minimiseSmooth(
    (at, g) => objective.deviance(at, method, g),
    start,
    fine ? { tolerance: 1e-8 } : { rough: true, tolerance: 1e-9 },
  );
  const snapped = Float64Array.from(step.x);
  let any = false;
  for (let i = 0; i < q; i++) {
    if (snapped[diagonal(i)] === 0 || Math.abs(snapped[diagonal(i)]!) > 2e-3) continue;
    snapped[diagonal(i)] = 0;
    any = true;
  }
  if (!any || objective.deviance(snapped, method, null) > step.value + 1e-5) return step;
  return { ...step, x: snapped };
}

/** With the residual parameters held, moves the covariance of the effects to its ML value. */
function settleThetaByMl(engine: NonlinearMixedEngine, x: Float64Array): void {
  const { objective } = engine;
  const count = objective.thetaCount;
  const whole = Float64Array.from(x);
  const gradient = new Float64Array(x.length);
  const result = minimiseSmooth(
    (theta, g) => {
      whole.set(theta);
      const value = objective.deviance(whole, "ML", gradient);
      g.set(gradient.subarray(0, count));
      return value;
    },
    x.slice(0, count),
    { tolerance: 1e-8 },
  );
  x.set(result.x);
}

/** Flips columns of L so that its diagonal is not negative: the likelihood does not see the sign. */
function normaliseSigns(engine: NonlinearMixedEngine, x: Float64Array): void {
  const { q, shape } = engine.model;
  if (shape === "diagonal") {
    for (let i = 0; i < q; i++) x[i] = Math.abs(x[i]!);
    return;
  }
  for (let j = 0; j < q; j++) {
    if (!(x[(j * (j + 1)) / 2 + j]! < 0)) continue;
    for (let i = j; i < q; i++) x[(i * (i + 1)) / 2 + j]! *= -1;
  }
}

/** Anderson's mix of the last rounds x -> g(x), least squares on the differences. */
function accelerated(history: readonly { x: Float64Array; g: Float64Array }[]): Float64Array {
  const last = history[history.length - 1]!;
  const m = history.length - 1;
  if (m === 0) return Float64Array.from(last.g);
  const size = last.x.length;
  const res = (h: { x: Float64Array; g: Float64Array }, k: number) => h.g[k]! - h.x[k]!;
  const gram = new Float64Array(m * m);
  const right = new Float64Array(m);
  for (let a = 0; a < m; a++) {
    for (let b = 0; b < m; b++) {
      for (let k = 0; k < size; k++) {
        gram[a * m + b]! +=
          (res(history[a + 1]!, k) - res(history[a]!, k)) *
          (res(history[b + 1]!, k) - res(history[b]!, k));
      }
    }
    for (let k = 0; k < size; k++) {
      right[a]! += (res(history[a + 1]!, k) - res(history[a]!, k)) * res(last, k);
    }
  }
  const { values, vectors } = symmetricEigen(makeMatrix(m, m, gram));
  const gamma = new Float64Array(m);
  for (let e = 0; e < m; e++) {
    if (!(values[e]! > 1e-10 * values[0]!)) continue;
    let s = 0;
    for (let a = 0; a < m; a++) s += vectors.data[a * m + e]! * right[a]!;
    for (let a = 0; a < m; a++) gamma[a]! += (vectors.data[a * m + e]! * s) / values[e]!;
  }
  const out = Float64Array.from(last.g);
  for (let a = 0; a < m; a++) {
    for (let k = 0; k < size; k++) {
      out[k]! -= gamma[a]! * (history[a + 1]!.g[k]! - history[a]!.g[k]!);
    }
  }
  // A mix that leaps far beyond the last round is not trusted.
  for (let k = 0; k < size; k++) {
    const reach = 5 * Math.abs(res(last, k)) + 0.5 * Math.abs(last.g[k]!) + 1e-12;
    if (!(Math.abs(out[k]! - last.g[k]!) <= reach)) return Float64Array.from(last.g);
  }
  return out;
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
  invertSymmetric(profile.xFactor, p, inverse);
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
  const logLik = -deviance / 2;
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
      se: covariance.map((row, i) => Math.sqrt(row[i]!)),
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
      effectSe: model.labels.map((_, g) =>
        names.map((__, i) => scale[i]! * Math.sqrt(predictions[(g * q + i) * q + i]! * sigma2)),
      ),
    },
    sigma: Math.sqrt(sigma2) * (residual?.sigmaFactor(x, objective.thetaCount) ?? 1),
    workingSigma: Math.sqrt(sigma2),
    residual: estimates,
    logLik,
    parameters,
    aic: 2 * parameters - 2 * logLik,
    bic: parameters * Math.log(method === "ML" ? n : n - p) - 2 * logLik,
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
