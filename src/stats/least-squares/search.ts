import { backSubstitute, dot, triangularise, whiten } from "./kernels.js";
import type { LeastSquaresOptions } from "./least-squares-fit.js";
import type { Memory, Slot } from "./memory.js";
import { lowerBound, type Problem, upperBound } from "./problem.js";

/** Where the search stands. */
export interface Search {
  readonly problem: Problem;
  readonly memory: Memory;
  /** The point reached, and room for the next that is tried. */
  here: Slot;
  there: Slot;
  /** Weighted (and whitened) residual sum of squares at `here`; NaN outside the domain. */
  rss: number;
  /** Sum of squares of the weighted data: what is zero to rounding is measured by it. */
  ySquare: number;
  damping: number;
  iterations: number;
  evaluations: number;
  /** Bates-Watts relative offset at `here`. */
  offset: number;
  /** Steps in a row that lowered the residuals by next to nothing. */
  flat: number;
}

/** The search at its start: bounds kept, linear parameters at their best for the others. */
export function beginSearch(
  problem: Problem,
  memory: Memory,
  options: LeastSquaresOptions,
): Search {
  const search: Search = {
    problem,
    memory,
    here: memory.here,
    there: memory.there,
    rss: Number.NaN,
    ySquare: dataSquare(problem),
    damping: options.damping ?? 0,
    iterations: 0,
    evaluations: 0,
    offset: Number.POSITIVE_INFINITY,
    flat: 0,
  };
  const { theta } = search.here;
  for (let j = 0; j < problem.p; j++) {
    const start = options.start[j]!;
    theta[j] =
      problem.fixed?.[j] === true
        ? start
        : Math.min(upperBound(problem, j), Math.max(lowerBound(problem, j), start));
  }
  search.rss = evaluateAt(search, search.here);
  if (problem.linear > 0 && Number.isFinite(search.rss)) {
    const again = withLinearAtBest(search, search.here);
    if (Number.isFinite(again)) search.rss = again;
  }
  return search;
}

/**
 * Writes values, gradient and residuals at the slot's parameters, weighted and
 * whitened; gives the residual sum of squares, NaN where the model has none.
 */
export function evaluateAt(search: Search, slot: Slot): number {
  search.evaluations++;
  const { model, data, n, p } = search.problem;
  const { values, gradient, residual } = slot;
  if (!model.evaluate(slot.theta, values, gradient)) return Number.NaN;
  const { y, rootWeights, carry } = data;
  for (let i = 0; i < n; i++) residual[i] = y[i]! - values[i]!;
  if (rootWeights !== undefined) {
    for (let i = 0; i < n; i++) {
      const w = rootWeights[i]!;
      residual[i]! *= w;
      for (let j = 0; j < p; j++) gradient[i * p + j]! *= w;
    }
  }
  if (carry !== undefined) whiten(residual, gradient, carry, n, p);
  // A gradient that is not finite makes its sum not finite.
  let check = 0;
  for (let k = 0; k < n * p; k++) check += gradient[k]!;
  return check * 0 === 0 ? dot(residual, 0, residual, 0, n) : Number.NaN;
}

/** Puts the linear parameters at their best for the others; gives the residual sum of squares there. */
export function withLinearAtBest(search: Search, slot: Slot): number {
  const { problem, memory } = search;
  const moved = problem.homogeneous ? rescale(problem, slot) : projectLinear(problem, memory, slot);
  return moved ? evaluateAt(search, slot) : dot(slot.residual, 0, slot.residual, 0, problem.n);
}

/** The one factor of the whole value at its best; true when all must be computed anew. */
function rescale(problem: Problem, slot: Slot): boolean {
  const { n, p } = problem;
  const { residual: r, gradient: g, values: v, theta: at } = slot;
  const j = problem.order[0]!;
  let top = 0;
  let bottom = 0;
  for (let i = 0, k = j; i < n; i++, k += p) {
    top += g[k]! * r[i]!;
    bottom += g[k]! * g[k]!;
  }
  const change = bottom > 0 ? top / bottom : 0;
  if (change === 0) return false;
  const before = at[j]!;
  const factor = (before + change) / before;
  at[j] = before + change;
  if (!Number.isFinite(factor) || Math.abs(factor) < 1e-8) return true;
  for (let i = 0, k = 0; i < n; i++) {
    r[i]! -= change * g[k + j]!;
    v[i]! *= factor;
    for (let c = 0; c < p; c++, k++) if (c !== j) g[k]! *= factor;
  }
  return false;
}

/** Linear parameters and residuals at their best; true when values and gradient must be computed anew. */
function projectLinear(problem: Problem, memory: Memory, slot: Slot): boolean {
  const { n, p, linear, order } = problem;
  const { linearA, linearB, solution } = memory;
  for (let c = 0; c < linear; c++) {
    const j = order[c]!;
    for (let i = 0; i < n; i++) linearA[c * n + i] = slot.gradient[i * p + j]!;
  }
  linearB.set(slot.residual);
  triangularise(linearA, n, linear, linearB);
  backSubstitute(linearA, n, linear, linearB, solution);
  let moved = false;
  for (let c = 0; c < linear; c++) {
    const j = order[c]!;
    const change = solution[c]!;
    if (Math.abs(change) > 1e-12 * Math.abs(slot.theta[j]!)) moved = true;
    slot.theta[j]! += change;
    for (let i = 0; i < n; i++) slot.residual[i]! -= change * slot.gradient[i * p + j]!;
  }
  return moved;
}

function dataSquare({ n, data: { y, rootWeights } }: Problem): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const each = y[i]! * (rootWeights === undefined ? 1 : rootWeights[i]!);
    sum += each * each;
  }
  return sum;
}
