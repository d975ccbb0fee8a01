import { emptyBlocks, type LikelihoodMethod } from "../linear-mixed/blocks.js";
import { type MixedObjective, mixedObjective } from "../linear-mixed/objective.js";
import { type MixedProfile, makeProfile } from "../linear-mixed/profile.js";
import { groupEffects, groupParameters, type NonlinearMixedModel } from "./model.js";

/**
 * The two steps of Lindstrom and Bates (1990, Biometrics 46, 673): penalised
 * nonlinear least squares for the effects at given variances, and a linear mixed
 * model on the linearised mean for the variances. Random effects are held as
 * b = scale * L u with u standardised, so that a variance of zero is no special
 * case.
 */
export interface NonlinearMixedEngine {
  readonly model: NonlinearMixedModel;
  readonly objective: MixedObjective;
  readonly profile: MixedProfile;
  /** n x (q + p + 1): derivatives by random and fixed effects, then the working response. */
  readonly rows: Float64Array;
  /** Working unit of each random effect. */
  readonly scale: Float64Array;
  readonly beta: Float64Array;
  /** Standardised random effects, groups x q. */
  readonly u: Float64Array;
  /** Random effects on the parameters' own (or log) scale, groups x q. */
  readonly b: Float64Array;
  /** Mean at the current effects, working order. */
  readonly fitted: Float64Array;
  /** Evaluates the mean at the current effects; returns the penalised sum of squares at the variances given. */
  penalised(parameters: Float64Array): number;
  /** Linearises at the effects last put in place by `penalised`. */
  linearise(): void;
  /** Minimises the penalised sum of squares; false when it could not get down. */
  settleEffects(parameters: Float64Array, method: LikelihoodMethod, tolerance?: number): boolean;
  /** After an evaluation of the objective: moves to its estimates of beta and u. */
  adoptLinear(parameters: Float64Array): void;
  /** Refreshes the variance function from the current mean. */
  updateVariance(): void;
}

export function makeNonlinearEngine(
  model: NonlinearMixedModel,
  beta0: Float64Array,
): NonlinearMixedEngine {
  const { n, groups, k, p, q, starts, x, y, random, fixedOf, fixedValue, mean, residual } = model;
  const width = q + p + 1;
  const rows = new Float64Array(n * width);
  const levels = [{ q, groups, parent: new Int32Array(groups), shape: model.shape }];
  const blocks = emptyBlocks(n, p, levels);
  const profile = makeProfile(blocks);
  const objective = mixedObjective({
    blocks,
    profile,
    levels,
    rows,
    width,
    starts,
    residual,
    remlConstant: 0,
  });
  const scale = new Float64Array(q).fill(1);
  const beta = Float64Array.from(beta0);
  const u = new Float64Array(groups * q);
  const b = new Float64Array(groups * q);
  const fitted = new Float64Array(n);
  const phi = new Float64Array(k);
  const slope = new Float64Array(k);
  /** d mean / d parameter at the effects last put in place, n x k; `penalised` writes it. */
  const derivative = new Float64Array(n * k);
  /** d parameter / d effect in each group (log scales), groups x k. */
  const slopes = new Float64Array(groups * k);
  const white = new Float64Array(n);

  function penalised(parameters: Float64Array): number {
    objective.setFactors(parameters);
    const l = objective.factors[0]!;
    let sum = 0;
    for (let i = 0; i < u.length; i++) sum += u[i]! * u[i]!;
    for (let g = 0; g < groups; g++) {
      groupEffects(l, scale, u, g, b);
      groupParameters(model, g, beta, b, phi, slope);
      slopes.set(slope, g * k);
      for (let i = starts[g]!; i < starts[g + 1]!; i++) {
        const f = mean(x[i]!, phi, derivative, i * k);
        fitted[i] = f;
        white[i] = y[i]! - f;
      }
    }
    if (residual !== null) residual.whiten(white, 1, parameters, objective.thetaCount);
    for (let i = 0; i < n; i++) sum += white[i]! * white[i]!;
    return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
  }

  function linearise(): void {
    for (let g = 0; g < groups; g++) {
      const own = g * k;
      for (let i = starts[g]!; i < starts[g + 1]!; i++) {
        const at = i * width;
        const from = i * k;
        let r = y[i]! - fitted[i]!;
        for (let j = 0; j < q; j++) {
          const o = random[j]!;
          const d = derivative[from + o]! * slopes[own + o]!;
          rows[at + j] = d * scale[j]!;
          r += d * b[g * q + j]!;
        }
        for (let c = 0; c < p; c++) {
          const o = fixedOf[c]!;
          rows[at + q + c] = derivative[from + o]! * slopes[own + o]! * fixedValue[c * groups + g]!;
        }
        rows[at + q + p] = r;
      }
    }
    objective.refresh();
  }

  const engine: NonlinearMixedEngine = {
    model,
    objective,
    profile,
    rows,
    scale,
    beta,
    u,
    b,
    fitted,
    penalised,
    linearise,
    settleEffects: (parameters, method, tolerance = 1e-13) =>
      settleEffects(engine, parameters, method, tolerance),
    adoptLinear: (parameters) => adoptLinear(engine, parameters),
    updateVariance() {
      if (residual?.usesFitted) residual.setMean(fitted);
    },
  };
  return engine;
}

/** Damped Gauss-Newton on the penalised sum of squares at given variances. */
function settleEffects(
  engine: NonlinearMixedEngine,
  parameters: Float64Array,
  method: LikelihoodMethod,
  tolerance: number,
): boolean {
  const { objective, profile, beta, u } = engine;
  let value = engine.penalised(parameters);
  if (!Number.isFinite(value)) return false;
  const fromBeta = new Float64Array(beta.length);
  const fromU = new Float64Array(u.length);
  for (let it = 0; it < 60; it++) {
    engine.linearise();
    if (!Number.isFinite(objective.deviance(parameters, method, null))) return false;
    const aim = profile.effects()[0] ?? new Float64Array(0);
    fromBeta.set(beta);
    fromU.set(u);
    let step = 1;
    let next = Number.POSITIVE_INFINITY;
    for (let half = 0; half < 25; half++) {
      for (let c = 0; c < beta.length; c++) beta[c] = fromBeta[c]! + step * profile.beta[c]!;
      for (let i = 0; i < u.length; i++) u[i] = fromU[i]! + step * (aim[i]! - fromU[i]!);
      next = engine.penalised(parameters);
      if (next <= value * (1 + 1e-13)) break;
      step /= 2;
      next = Number.POSITIVE_INFINITY;
    }
    if (!Number.isFinite(next)) {
      beta.set(fromBeta);
      u.set(fromU);
      value = engine.penalised(parameters);
      // What the linear step promised decides whether this is the bottom or a failure.
      return value - profile.rss <= 1e-7 * value;
    }
    const drop = value - next;
    value = next;
    if (drop <= tolerance * value && step === 1) return true;
  }
  return false;
}

/** Goes to the linear model's estimates, or back towards where the mean still has a value. */
function adoptLinear(engine: NonlinearMixedEngine, parameters: Float64Array): void {
  const { profile, beta, u } = engine;
  const from = beta.slice();
  for (let c = 0; c < beta.length; c++) beta[c]! += profile.beta[c]!;
  u.set(profile.effects()[0] ?? new Float64Array(0));
  if (Number.isFinite(engine.penalised(parameters))) return;
  for (let half = 0; half < 30; half++) {
    for (let c = 0; c < beta.length; c++) beta[c] = (beta[c]! + from[c]!) / 2;
    for (let i = 0; i < u.length; i++) u[i]! /= 2;
    if (Number.isFinite(engine.penalised(parameters))) return;
  }
}
