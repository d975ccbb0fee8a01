import {
  factorInPlace,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../linear-algebra/small-matrix.js";
import { gaussHermite } from "../numeric/gauss-hermite.js";
import type { NonlinearMixedEngine } from "./engine.js";
import { groupEffects, groupParameters } from "./model.js";

/** -2 log marginal likelihood at fixed effects, variances and sigma; modes are kept as the next start. */
export function marginalDeviance(
  engine: NonlinearMixedEngine,
  nodes: number,
): (beta: Float64Array, theta: Float64Array, sigma: number) => number {
  const { model, objective } = engine;
  const { n, groups, k, q } = model;
  const width = q + 1;
  const w: Workspace = {
    engine,
    width,
    u: Float64Array.from(engine.u),
    trial: new Float64Array(groups * q),
    b: new Float64Array(groups * q),
    step: new Float64Array(groups * q),
    phi: new Float64Array(k),
    slope: new Float64Array(k),
    d: new Float64Array(k),
    rows: new Float64Array(n * width),
    pss: new Float64Array(groups),
    next: new Float64Array(groups),
    chol: new Float64Array(groups * q * q),
    added: 0,
  };
  const grid = productGrid(nodes, q);
  return (beta, theta, sigma) => {
    objective.setFactors(theta);
    const at: At = { beta, theta };
    findModes(w, at, sigma);
    engine.u.set(w.u);
    let total = n * Math.log(2 * Math.PI * sigma * sigma) + w.added;
    for (let g = 0; g < groups; g++) {
      curvature(w, g);
      for (let i = 0; i < q; i++) total += 2 * Math.log(w.chol[(g * q + i) * q + i]!);
    }
    const parts = nodes === 1 ? atModes(w, sigma) : overGrid(w, at, sigma, grid);
    for (let g = 0; g < groups; g++) total += parts[g]!;
    return Number.isFinite(total) ? total : Number.POSITIVE_INFINITY;
  };
}

interface At {
  readonly beta: Float64Array;
  readonly theta: Float64Array;
}

interface Workspace {
  readonly engine: NonlinearMixedEngine;
  /** Columns of `rows`: derivatives by standardised effects, then residuals. */
  readonly width: number;
  /** Modes of the standardised effects, groups x q. */
  readonly u: Float64Array;
  readonly trial: Float64Array;
  readonly b: Float64Array;
  readonly step: Float64Array;
  readonly phi: Float64Array;
  readonly slope: Float64Array;
  readonly d: Float64Array;
  readonly rows: Float64Array;
  /** Penalised sum of squares of each group at its mode, and at the effects tried. */
  readonly pss: Float64Array;
  readonly next: Float64Array;
  /** Lower Cholesky factor of I + Z'Z of each group. */
  readonly chol: Float64Array;
  /** What the scaling of residuals adds to -2 log-likelihood. */
  added: number;
}

/** Residuals and standardised derivatives at effects `u`; penalised sums into `out`. */
function evaluate(w: Workspace, { beta, theta }: At, u: Float64Array, out: Float64Array): void {
  const { width, b, phi, slope, d, rows } = w;
  const { model, objective, scale } = w.engine;
  const { groups, q, starts, x, y, mean, random, residual } = model;
  const l = objective.factors[0]!;
  for (let g = 0; g < groups; g++) {
    groupEffects(l, scale, u, g, b);
    groupParameters(model, g, beta, b, phi, slope);
    for (let r = starts[g]!; r < starts[g + 1]!; r++) {
      const f = mean(x[r]!, phi, d, 0);
      for (let j = 0; j < q; j++) {
        let s = 0;
        for (let i = j; i < q; i++) {
          s += d[random[i]!]! * slope[random[i]!]! * scale[i]! * l[i * q + j]!;
        }
        rows[r * width + j] = s;
      }
      rows[r * width + q] = y[r]! - f;
    }
  }
  w.added = residual === null ? 0 : residual.whiten(rows, width, theta, objective.thetaCount);
  for (let g = 0; g < groups; g++) {
    let s = 0;
    for (let i = 0; i < q; i++) s += u[g * q + i]! ** 2;
    for (let r = starts[g]!; r < starts[g + 1]!; r++) s += rows[r * width + q]! ** 2;
    out[g] = Number.isFinite(s) ? s : Number.POSITIVE_INFINITY;
  }
}

/** Moves every group to its mode, by Gauss-Newton steps halved group by group. */
function findModes(w: Workspace, at: At, sigma: number): void {
  evaluate(w, at, w.u, w.pss);
  for (let it = 0; it < 50; it++) {
    if (newtonSteps(w) / sigma < 1e-9) return;
    takeSteps(w, at);
    evaluate(w, at, w.u, w.pss);
  }
}

/** The step of each group from the rows last evaluated; gives the largest. */
function newtonSteps(w: Workspace): number {
  const { width, u, step, rows, chol } = w;
  const { groups, q, starts } = w.engine.model;
  const right = new Float64Array(q);
  let largest = 0;
  for (let g = 0; g < groups; g++) {
    curvature(w, g);
    for (let i = 0; i < q; i++) {
      let s = -u[g * q + i]!;
      for (let r = starts[g]!; r < starts[g + 1]!; r++) {
        s += rows[r * width + i]! * rows[r * width + q]!;
      }
      right[i] = s;
    }
    solveLowerInPlace(chol, q, right, g * q * q);
    solveUpperInPlace(chol, q, right, g * q * q);
    for (let i = 0; i < q; i++) {
      step[g * q + i] = right[i]!;
      largest = Math.max(largest, Math.abs(right[i]!));
    }
  }
  return largest;
}

/** Each group takes the longest part of its step that does not raise its sum of squares. */
function takeSteps(w: Workspace, at: At): void {
  const { u, trial, step, pss, next } = w;
  const { groups, q } = w.engine.model;
  const open = new Uint8Array(groups).fill(1);
  let size = 1;
  for (let half = 0; half < 20; half++) {
    let left = 0;
    for (let i = 0; i < u.length; i++) {
      trial[i] = u[i]! + (open[Math.floor(i / q)] === 1 ? size * step[i]! : 0);
    }
    evaluate(w, at, trial, next);
    for (let g = 0; g < groups; g++) {
      if (open[g] === 0) continue;
      if (next[g]! <= pss[g]! * (1 + 1e-14)) {
        for (let i = 0; i < q; i++) u[g * q + i] = trial[g * q + i]!;
        pss[g] = next[g]!;
        open[g] = 0;
      } else left++;
    }
    if (left === 0) return;
    size /= 2;
  }
}

/** The part of each group by its mode alone (Laplace). */
function atModes({ pss }: Workspace, sigma: number): Float64Array {
  return pss.map((each) => each / (sigma * sigma));
}

/** The part of each group integrated over the grid around its mode: u = mode + sigma sqrt(2) C^-T z. */
function overGrid(w: Workspace, at: At, sigma: number, grid: readonly GridPoint[]): Float64Array {
  const { u, trial, pss, next, chol } = w;
  const { groups, q } = w.engine.model;
  const s2 = sigma * sigma;
  const sum = new Float64Array(groups);
  const z = new Float64Array(q);
  for (const point of grid) {
    for (let g = 0; g < groups; g++) {
      for (let i = q - 1; i >= 0; i--) {
        let s = point.z[i]!;
        for (let j = i + 1; j < q; j++) s -= chol[(g * q + j) * q + i]! * z[j]!;
        z[i] = s / chol[(g * q + i) * q + i]!;
        trial[g * q + i] = u[g * q + i]! + sigma * Math.SQRT2 * z[i]!;
      }
    }
    evaluate(w, at, trial, next);
    for (let g = 0; g < groups; g++) {
      sum[g]! += Math.exp(point.logWeight + point.square - (next[g]! - pss[g]!) / (2 * s2));
    }
  }
  return pss.map((each, g) => each / s2 - 2 * Math.log(sum[g]!) + q * Math.log(Math.PI));
}

/** Lower Cholesky factor of I + Z'Z of group g, from the rows last evaluated. */
function curvature({ width, rows, chol, engine }: Workspace, g: number): void {
  const { q, starts } = engine.model;
  const at = g * q * q;
  for (let i = 0; i < q; i++) {
    for (let j = 0; j <= i; j++) {
      let s = i === j ? 1 : 0;
      for (let r = starts[g]!; r < starts[g + 1]!; r++) {
        s += rows[r * width + i]! * rows[r * width + j]!;
      }
      chol[at + i * q + j] = s;
    }
  }
  // Rows that are no numbers leave none, so that the deviance is none either.
  if (!factorInPlace(chol, q, at)) chol.fill(Number.NaN, at, at + q * q);
}

interface GridPoint {
  readonly z: readonly number[];
  readonly logWeight: number;
  readonly square: number;
}

/** Every combination of nodes over q effects. */
function productGrid(nodes: number, q: number): GridPoint[] {
  const { nodes: at, weights } = gaussHermite(nodes);
  let grid: GridPoint[] = [{ z: [], logWeight: 0, square: 0 }];
  for (let j = 0; j < q; j++) {
    grid = grid.flatMap((g) =>
      at.map((v, k) => ({
        z: [...g.z, v],
        logWeight: g.logWeight + Math.log(weights[k]!),
        square: g.square + v * v,
      })),
    );
  }
  return grid;
}
