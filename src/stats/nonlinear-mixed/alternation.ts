import { makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import type { LikelihoodMethod } from "../linear-mixed/blocks.js";
import { parametersFromFactor } from "../linear-mixed/covariance.js";
import {
  hessianByDifferences,
  minimiseNearby,
  minimiseSmooth,
  type SmoothMinimum,
} from "../numeric/minimise-smooth.js";
import type { NonlinearMixedEngine } from "./engine.js";
import type { NonlinearMixedStatus, NonlinearSearch } from "./fit.js";

/** Working units from the spread of each derivative, then a first linear fit at the pooled mean. */
export function beginVariances(
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
export function placeEffects(
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

/**
 * Effects and variances in turn until both agree: each round settles the effects,
 * linearises there and fits the variances to the linear model. Rounds are mixed
 * (Anderson) where they contract and shortened where they do not.
 */
export function alternate(
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
  let curvature: Float64Array | null = null;
  const history: { x: Float64Array; g: Float64Array }[] = [];
  let iterations = 0;
  for (; iterations < options.maxIterations; iterations++) {
    const settled = engine.settleEffects(x, method, change > 1e-4 ? 1e-7 : 1e-13);
    if (!settled && !Number.isFinite(engine.penalised(x)))
      return { x, status: "outside-domain", iterations, change, slope };
    unsettled = settled ? 0 : unsettled + 1;
    engine.updateVariance();
    engine.linearise();
    const fine = change < 1e-5;
    const step = varianceStep(engine, method, x, fine, curvature);
    if (step.hessian.some((v) => v !== 0)) curvature = step.hessian;
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
  curvature: Float64Array | null,
): SmoothMinimum {
  const { objective } = engine;
  const { q, shape } = engine.model;
  const start = Float64Array.from(x);
  const diagonal = (i: number) => (shape === "general" ? (i * (i + 3)) / 2 : i);
  for (let i = 0; i < q; i++) {
    if (Math.abs(start[diagonal(i)]!) < 1e-3) start[diagonal(i)] = 0.02;
  }
  const f = (at: Float64Array, g: Float64Array) => objective.deviance(at, method, g);
  const nearby = curvature === null ? null : minimiseNearby(f, start, curvature, 1e-9);
  const step =
    nearby ??
    minimiseSmooth(f, start, fine ? { tolerance: 1e-8 } : { rough: true, tolerance: 1e-9 });
  if (step.hessian.every((v) => v === 0)) step.hessian.set(hessianByDifferences(f, step.x));
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
