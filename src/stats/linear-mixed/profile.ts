import {
  factorWithLogDeterminant,
  invertFromFactor,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../linear-algebra/small-matrix.js";
import type { LevelWork, LikelihoodMethod, MixedBlocks } from "./blocks.js";
import { predictionCovariances, standardisedEffects } from "./effects.js";

/**
 * The profiled likelihood of the linear mixed model, from cross-products alone.
 *
 * Model, rows already made independent with equal variance:
 *   y = X beta + sum over levels (Z_l b_l) + e,  b_l = L_l u_l,
 *   u_l ~ N(0, s2 I),  e ~ N(0, s2 I).
 * Levels are nested, innermost first. Each group of the innermost level is
 * eliminated by a Cholesky step of size q, what remains is summed into its
 * parent, and so outward; the root holds the cross-products of (X, y) in the
 * inverse of the marginal covariance. Cost: linear in groups.
 *
 * The gradient runs the same recursion backwards. With M = I + L'AL, U = M^-1 L'B
 * and Y = B - A L U, where (A B) are a group's cross-products and G the
 * derivative of the deviance by the parent's block,
 *   d deviance / d L = 2 A L M^-1 - 2 Y G U',
 * and the block of the group itself has derivative P G P' + L M^-1 L' with
 * P = (-L U; I).
 *
 * Sources: profiled deviance, Bates et al. (2015) J. Stat. Software 67(1);
 * elimination by levels, Pinheiro and Bates (2000) chapter 2. Gradient: own
 * derivation, checked against differences in the tests.
 */
/** What one evaluation leaves behind; the arrays are reused by the next one. */
export interface MixedProfile {
  /** -2 log-likelihood with beta and s2 profiled out, without residual-scaling terms. */
  deviance: number;
  /** log det of the marginal covariance over s2. */
  logDetV: number;
  /** log det of X'V^-1 X. */
  logDetX: number;
  /** Residual sum of squares in the metric of V^-1. */
  rss: number;
  readonly beta: Float64Array;
  /** Lower Cholesky factor of X'V^-1 X, p x p. */
  readonly xFactor: Float64Array;
  /** d deviance / d L for each level, q x q. */
  readonly gradient: readonly Float64Array[];
  evaluate(factors: readonly Float64Array[], method: LikelihoodMethod, gradient: boolean): number;
  /** Standardised effects u of each group of each level (groups x q), after an evaluation. */
  effects(): Float64Array[];
  /** Covariance of effect minus prediction over s2, b = L u, given that of beta; after an evaluation. */
  effectCovariances(ofBeta: Float64Array): Float64Array[];
}

/** Prepares the profile of given blocks; refill the blocks and it serves again. */
export function makeProfile(blocks: MixedBlocks): MixedProfile {
  const { p, levels } = blocks;
  const work = levelsOf(blocks);
  const maxQ = Math.max(1, ...levels.map((l) => l.q));
  const maxM = Math.max(p + 1, ...work.map((l) => l.m));
  const beta = new Float64Array(p);
  const state: MixedProfile = {
    deviance: Number.POSITIVE_INFINITY,
    logDetV: 0,
    logDetX: 0,
    rss: 0,
    beta,
    xFactor: new Float64Array(p * p),
    gradient: levels.map((l) => new Float64Array(l.q * l.q)),
    evaluate: (factors, method, gradient) => evaluate(w, factors, method, gradient),
    effects: () => standardisedEffects(work, w.factors, beta),
    effectCovariances: (ofBeta) => predictionCovariances(work, w.factors, ofBeta),
  };
  const w: Workspace = {
    state,
    blocks,
    work,
    c: new Float64Array(maxQ * maxM),
    y: new Float64Array(maxQ * maxM),
    t: new Float64Array(maxQ * Math.max(maxM, maxQ)),
    half: new Float64Array(p),
    xInverse: new Float64Array(p * p),
    factors: [],
  };
  return state;
}

/** What the evaluations of one profile share. */
interface Workspace {
  readonly state: MixedProfile;
  readonly blocks: MixedBlocks;
  readonly work: readonly LevelWork[];
  /** Scratch: L'B of a group eliminated, B less what is explained of it, a row. */
  readonly c: Float64Array;
  readonly y: Float64Array;
  readonly t: Float64Array;
  readonly half: Float64Array;
  readonly xInverse: Float64Array;
  /** The factors of the last evaluation. */
  factors: readonly Float64Array[];
}

/** Room for each level, the innermost first: each hands what remains to its parent. */
function levelsOf(blocks: MixedBlocks): LevelWork[] {
  const { p, levels } = blocks;
  let width = levels.reduce((s, l) => s + l.q, 0) + p + 1;
  const work: LevelWork[] = [];
  levels.forEach((level, k) => {
    const { q, groups, parent } = level;
    const m = width - q;
    const parents = levels[k + 1]?.groups ?? 1;
    work.push({
      q,
      m,
      groups,
      parent,
      u: new Float64Array(groups * q * m),
      chol: new Float64Array(groups * q * q),
      al: new Float64Array(groups * q * q),
      source: k === 0 ? blocks.first : work[k - 1]!.sum,
      stride: width,
      step: k === 0 ? q * width : width * width,
      sum: new Float64Array(parents * m * m),
      outer: new Float64Array(parents * m * m),
    });
    width = m;
  });
  return work;
}

/** The deviance at given factors, into the state; infinite where something is not positive definite. */
function evaluate(
  w: Workspace,
  factors: readonly Float64Array[],
  method: LikelihoodMethod,
  wantGradient: boolean,
): number {
  const { state, blocks, work } = w;
  w.factors = factors;
  state.deviance = Number.POSITIVE_INFINITY;
  state.logDetV = 0;
  for (let k = 0; k < work.length; k++) {
    const level = work[k]!;
    if (k === 0) level.sum.set(blocks.rest);
    else level.sum.fill(0);
    const logDet = eliminate(level, factors[k]!, k > 0, w.c);
    if (Number.isNaN(logDet)) return Number.POSITIVE_INFINITY;
    state.logDetV += logDet;
  }
  if (!solveRoot(w, method)) return Number.POSITIVE_INFINITY;
  if (wantGradient && work.length > 0) differentiate(w, factors, method);
  return state.deviance;
}

/** Takes the groups of a level out of what holds them; gives log det of its part, NaN where it has none. */
function eliminate(level: LevelWork, l: Float64Array, carry: boolean, c: Float64Array): number {
  const { q, m, groups, parent, u, chol, al, source, stride, step, sum } = level;
  let logDet = 0;
  for (let g = 0; g < groups; g++) {
    const at = g * step;
    const sq = g * q * q;
    for (let i = 0; i < q; i++) {
      for (let j = 0; j < q; j++) {
        let s = 0;
        for (let k = j; k < q; k++) s += source[at + i * stride + k]! * l[k * q + j]!;
        al[sq + i * q + j] = s;
      }
    }
    for (let i = 0; i < q; i++) {
      for (let j = 0; j <= i; j++) {
        let s = i === j ? 1 : 0;
        for (let k = i; k < q; k++) s += l[k * q + i]! * al[sq + k * q + j]!;
        chol[sq + i * q + j] = s;
      }
    }
    logDet = factorWithLogDeterminant(chol, q, sq, logDet);
    if (Number.isNaN(logDet)) return logDet;
    // C = chol^-1 L'B, then U = chol^-T C.
    for (let i = 0; i < q; i++) {
      const d = chol[sq + i * q + i]!;
      for (let j = 0; j < m; j++) {
        let s = 0;
        for (let k = i; k < q; k++) s += l[k * q + i]! * source[at + k * stride + q + j]!;
        for (let k = 0; k < i; k++) s -= chol[sq + i * q + k]! * c[k * m + j]!;
        c[i * m + j] = s / d;
      }
    }
    const uAt = g * q * m;
    for (let i = q - 1; i >= 0; i--) {
      const d = chol[sq + i * q + i]!;
      for (let j = 0; j < m; j++) {
        let s = c[i * m + j]!;
        for (let k = i + 1; k < q; k++) s -= chol[sq + k * q + i]! * u[uAt + k * m + j]!;
        u[uAt + i * m + j] = s / d;
      }
    }
    const to = parent[g]! * m * m;
    if (carry) {
      for (let a = 0; a < m; a++) {
        const from = at + (q + a) * stride + q;
        for (let b = 0; b < m; b++) sum[to + a * m + b]! += source[from + b]!;
      }
    }
    for (let i = 0; i < q; i++) {
      for (let a = 0; a < m; a++) {
        const f = c[i * m + a]!;
        const row = to + a * m;
        for (let b = 0; b < m; b++) sum[row + b]! -= f * c[i * m + b]!;
      }
    }
  }
  return logDet;
}

/** Coefficients, residual sum of squares and deviance from the root block; false where there are none. */
function solveRoot(w: Workspace, method: LikelihoodMethod): boolean {
  const { state, work, blocks, half } = w;
  const { p, n } = blocks;
  const { beta, xFactor } = state;
  const root = work.length === 0 ? blocks.rest : work[work.length - 1]!.sum;
  const m = p + 1;
  for (let i = 0; i < p; i++) {
    for (let j = 0; j <= i; j++) xFactor[i * p + j] = root[i * m + j]!;
    half[i] = root[i * m + p]!;
  }
  const logDet = factorWithLogDeterminant(xFactor, p);
  if (Number.isNaN(logDet)) return false;
  solveLowerInPlace(xFactor, p, half);
  let rss = root[p * m + p]!;
  for (let i = 0; i < p; i++) rss -= half[i]! * half[i]!;
  beta.set(half);
  solveUpperInPlace(xFactor, p, beta);
  state.rss = rss;
  state.logDetX = logDet;
  const df = method === "ML" ? n : n - p;
  if (!(rss > 0) || df <= 0) return false;
  state.deviance =
    df * (Math.log((2 * Math.PI * rss) / df) + 1) +
    state.logDetV +
    (method === "REML" ? logDet : 0);
  return Number.isFinite(state.deviance);
}

function differentiate(
  w: Workspace,
  factors: readonly Float64Array[],
  method: LikelihoodMethod,
): void {
  const { work, y, t } = w;
  const last = work[work.length - 1]!;
  rootDerivative(w, last.outer, method);
  for (let k = work.length - 1; k >= 0; k--) {
    const level = work[k]!;
    const { q, m, groups, parent, u, chol, al, source, stride, step, outer } = level;
    const l = factors[k]!;
    const grad = w.state.gradient[k]!;
    const below = k > 0 ? work[k - 1]! : undefined;
    grad.fill(0);
    for (let g = 0; g < groups; g++) {
      const at = g * step;
      const sq = g * q * q;
      const uAt = g * q * m;
      const G = parent[g]! * m * m;
      for (let i = 0; i < q; i++) {
        for (let j = 0; j < m; j++) {
          let s = source[at + i * stride + q + j]!;
          for (let r = 0; r < q; r++) s -= al[sq + i * q + r]! * u[uAt + r * m + j]!;
          y[i * m + j] = s;
        }
        // Row i of A L M^-1: solve M x = (A L)' row.
        for (let r = 0; r < q; r++) {
          let s = al[sq + i * q + r]!;
          for (let z = 0; z < r; z++) s -= chol[sq + r * q + z]! * t[z]!;
          t[r] = s / chol[sq + r * q + r]!;
        }
        for (let r = q - 1; r >= 0; r--) {
          let s = t[r]!;
          for (let z = r + 1; z < q; z++) s -= chol[sq + z * q + r]! * t[z]!;
          t[r] = s / chol[sq + r * q + r]!;
        }
        for (let r = 0; r < q; r++) grad[i * q + r]! += 2 * t[r]!;
        for (let a = 0; a < m; a++) {
          let s = 0;
          for (let b = 0; b < m; b++) s += y[i * m + b]! * outer[G + b * m + a]!;
          t[a] = s;
        }
        for (let r = 0; r < q; r++) {
          let s = 0;
          for (let a = 0; a < m; a++) s += t[a]! * u[uAt + r * m + a]!;
          grad[i * q + r]! -= 2 * s;
        }
      }
      if (below !== undefined) passInward(level, below, g, l);
    }
  }
}

/** Derivative of the deviance by the root block: weight on the residual, and X'V^-1X for REML. */
function rootDerivative(w: Workspace, out: Float64Array, method: LikelihoodMethod): void {
  const { xInverse } = w;
  const { p, n } = w.blocks;
  const { beta, xFactor, rss } = w.state;
  const m = p + 1;
  const scale = (method === "ML" ? n : n - p) / rss;
  for (let a = 0; a < m; a++) {
    const ea = a === p ? 1 : -beta[a]!;
    for (let b = 0; b < m; b++) out[a * m + b] = scale * ea * (b === p ? 1 : -beta[b]!);
  }
  if (method === "ML") return;
  invertFromFactor(xFactor, p, xInverse);
  for (let a = 0; a < p; a++) {
    for (let b = 0; b < p; b++) out[a * m + b]! += xInverse[a * p + b]!;
  }
}

/** Derivative of the deviance by a group of the level below. */
function passInward(level: LevelWork, below: LevelWork, g: number, l: Float64Array): void {
  const { q, m, parent, u, chol, outer } = level;
  const w = q + m;
  const out = g * w * w;
  const G = parent[g]! * m * m;
  const uAt = g * q * m;
  const sq = g * q * q;
  const to = below.outer;
  // WB = L U (q x m); P = (-WB; I).
  const wb = new Float64Array(q * m);
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < m; j++) {
      let s = 0;
      for (let r = 0; r <= i; r++) s += l[i * q + r]! * u[uAt + r * m + j]!;
      wb[i * m + j] = s;
    }
  }
  const wbG = new Float64Array(q * m);
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < m; j++) {
      let s = 0;
      for (let a = 0; a < m; a++) s += wb[i * m + a]! * outer[G + a * m + j]!;
      wbG[i * m + j] = s;
    }
  }
  for (let a = 0; a < m; a++) {
    for (let b = 0; b < m; b++) to[out + (q + a) * w + q + b] = outer[G + a * m + b]!;
  }
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < m; j++) {
      to[out + i * w + q + j] = -wbG[i * m + j]!;
      to[out + (q + j) * w + i] = -wbG[i * m + j]!;
    }
  }
  // W = L M^-1 L' = (chol^-1 L')'(chol^-1 L').
  const k = new Float64Array(q * q);
  for (let col = 0; col < q; col++) {
    for (let i = 0; i < q; i++) {
      let s = col >= i ? l[col * q + i]! : 0;
      for (let r = 0; r < i; r++) s -= chol[sq + i * q + r]! * k[r * q + col]!;
      k[i * q + col] = s / chol[sq + i * q + i]!;
    }
  }
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let s = 0;
      for (let r = 0; r < q; r++) s += k[r * q + i]! * k[r * q + j]!;
      for (let a = 0; a < m; a++) s += wbG[i * m + a]! * wb[j * m + a]!;
      to[out + i * w + j] = s;
    }
  }
}
