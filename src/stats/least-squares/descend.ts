import { columnPeak, dampedStep, leastOwnPart, promised, triangularise } from "./kernels.js";
import type { LeastSquaresStop } from "./least-squares-fit.js";
import { lowerBound, type Problem, upperBound } from "./problem.js";
import { evaluateAt, type Search, withLinearAtBest } from "./search.js";

/** Walks downhill until a criterion ends it, and says which. */
export function descend(
  search: Search,
  tolerance: number,
  maxIterations: number,
): LeastSquaresStop {
  const { problem, memory } = search;
  const rounding = 4 * Number.EPSILON * Math.sqrt(search.ySquare);
  let leastOffset = Number.POSITIVE_INFINITY;
  let stuck = 0;
  let tenAgo = Number.POSITIVE_INFINITY;
  memory.scale.fill(0);
  for (;;) {
    triangulariseHere(search);
    const held = holdAtBounds(search);
    rescaleColumns(search);
    const tangent = tangentPart(search, held);
    search.offset = relativeOffset(search, tangent, problem.m - held);
    if (search.offset <= tolerance) return "relative-offset";
    if (Math.sqrt(tangent) <= rounding) return isExact(search) ? "exact-fit" : "rounding";
    // Within rounding the gradient no longer falls: the floor of float64.
    if (search.offset < 1e-5 && search.offset > 0.95 * leastOffset && ++stuck >= 3) {
      return "rounding";
    }
    leastOffset = Math.min(leastOffset, search.offset);
    if (search.iterations >= maxIterations) return "iterations";
    search.iterations++;
    if (!stepDown(search)) {
      return isExact(search) ? "exact-fit" : search.offset <= 1e-5 ? "rounding" : "no-progress";
    }
    if (search.iterations % 10 === 0) {
      if (runsOff(search, tenAgo)) search.flat = flatLimit;
      tenAgo = search.rss;
    }
    if (search.flat >= flatLimit) return "running-off";
  }
}

/** So many steps in a row that gained next to nothing are a run to infinity. */
const flatLimit = 8;

const isExact = (search: Search): boolean => search.rss <= 1e-24 * search.ySquare;

/** R of the gradient's columns in their order into `a`, Q'r into `b`. */
function triangulariseHere({ problem, memory, here }: Search): void {
  const { n, p, m, order } = problem;
  const { a, b } = memory;
  for (let c = 0; c < m; c++) {
    const j = order[c]!;
    for (let i = 0; i < n; i++) a[c * n + i] = here.gradient[i * p + j]!;
  }
  b.set(here.residual);
  triangularise(a, n, m, b);
}

/** Marks parameters that rest on a bound which the gradient still presses against; gives how many. */
function holdAtBounds({ problem, memory, here }: Search): number {
  const { n, p, linear, curved, order } = problem;
  const { gradient, residual, theta } = here;
  const { free } = memory;
  let held = 0;
  for (let c = 0; c < curved; c++) {
    free[c] = 1;
    if (!problem.bounded) continue;
    const j = order[linear + c]!;
    const at = theta[j]!;
    const low = lowerBound(problem, j);
    const high = upperBound(problem, j);
    if (at > low && at < high) continue;
    let pull = 0;
    for (let i = 0; i < n; i++) pull += gradient[i * p + j]! * residual[i]!;
    if ((at <= low && pull <= 0) || (at >= high && pull >= 0)) {
      free[c] = 0;
      held++;
    }
  }
  return held;
}

/** Scales of the damping: the longest that each column was, unless it shrank a lot. */
function rescaleColumns({ problem, memory }: Search): void {
  const { n, linear, curved } = problem;
  const { a, scale } = memory;
  for (let c = 0; c < curved; c++) {
    let square = 0;
    for (let i = 0; i <= c; i++) {
      const each = a[(linear + c) * n + linear + i] ?? 0;
      square += each * each;
    }
    const norm = Math.sqrt(square);
    // A column that shrank a lot (a flat far region) must not be damped by its past.
    scale[c] = norm > 0.1 * scale[c]! ? Math.max(norm, scale[c]!) : norm;
    if (scale[c] === 0) scale[c] = 1;
  }
}

/** Squared length of the residuals' part in the tangent plane of what is free. */
function tangentPart({ problem, memory }: Search, held: number): number {
  const { n, m, linear, curved } = problem;
  const { a, b, free, scale, step, work, side, solution } = memory;
  let tangent = 0;
  if (held === 0) {
    // A column that is zero or a copy spans nothing of the tangent plane.
    for (let c = 0; c < m; c++) {
      const own = Math.abs(a[c * n + c]!);
      if (own > 0 && own > 1e-15 * columnPeak(a, n, c)) tangent += b[c]! * b[c]!;
    }
    return tangent;
  }
  for (let c = 0; c < linear; c++) tangent += b[c]! * b[c]!;
  dampedStep(a, n, linear, curved, b, free, 0, scale, step, work, side, solution);
  return tangent + promised(a, n, linear, curved, b, step);
}

/** The Bates-Watts relative offset. */
function relativeOffset(search: Search, tangent: number, active: number): number {
  const { n } = search.problem;
  if (active === 0) return 0;
  if (n <= active) return Number.POSITIVE_INFINITY;
  const rest = Math.max(0, search.rss - tangent);
  return Math.sqrt(tangent / active) / Math.sqrt(rest / (n - active));
}

/** Damped steps until one shortens the residuals and is taken; false when none does. */
function stepDown(search: Search): boolean {
  const { n, linear, curved } = search.problem;
  const { a, b, free, scale, step, work, side, solution } = search.memory;
  let linearPart = 0;
  for (let c = 0; c < linear; c++) linearPart += b[c]! * b[c]!;
  for (let attempt = 0; attempt < 40; attempt++) {
    dampedStep(a, n, linear, curved, b, free, search.damping, scale, step, work, side, solution);
    const length = moveCurved(search);
    const hope = linearPart + promised(a, n, linear, curved, b, step);
    moveLinear(search.problem, search);
    if (takeIfBetter(search, hope)) return true;
    if (length <= 1e-15) return false;
    search.damping = search.damping === 0 ? 1e-3 : search.damping * (attempt < 3 ? 5 : 25);
    if (search.damping > 1e20) return false;
  }
  return false;
}

/** Puts the step, cut to what is allowed, into `there`; gives its greatest relative length. */
function moveCurved({ problem, memory, here, there }: Search): number {
  const { linear, curved, order, isPositive } = problem;
  const { step } = memory;
  const { theta } = here;
  let length = 0;
  there.theta.set(theta);
  for (let c = 0; c < curved; c++) {
    const j = order[linear + c]!;
    let to = theta[j]! + step[c]!;
    if (isPositive?.[j] === true) to = Math.min(4 * theta[j]!, Math.max(theta[j]! / 4, to));
    if (problem.bounded)
      to = Math.min(upperBound(problem, j), Math.max(lowerBound(problem, j), to));
    step[c] = to - theta[j]!;
    there.theta[j] = to;
    length = Math.max(length, Math.abs(step[c]!) / (Math.abs(to) + 1e-300));
  }
  return length;
}

/** The linear parameters that the gradient foresees for the step of the others. */
function moveLinear({ n, linear, curved, order }: Problem, { memory, there }: Search): void {
  const { a, b, step, solution } = memory;
  for (let c = linear - 1; c >= 0; c--) {
    let sum = b[c]!;
    for (let k = 0; k < curved; k++) sum -= a[(linear + k) * n + c]! * step[k]!;
    for (let k = c + 1; k < linear; k++) sum -= a[k * n + c]! * solution[k]!;
    const diagonal = a[c * n + c]!;
    solution[c] = diagonal === 0 ? 0 : sum / diagonal;
    there.theta[order[c]!]! += solution[c]!;
  }
}

/** Goes to `there` when the residuals fall by enough of what was hoped for, and damps by how well it went. */
function takeIfBetter(search: Search, hope: number): boolean {
  const { linear, curved } = search.problem;
  const { rss, there } = search;
  let tried = evaluateAt(search, there);
  if (linear > 0 && curved > 0 && Number.isFinite(tried)) tried = withLinearAtBest(search, there);
  if (!Number.isFinite(tried)) return false;
  const ratio = hope > 0 ? (rss - tried) / hope : 0;
  // When the promised fall is below what the sums can resolve, only require no rise.
  const fine = hope <= 1e-9 * rss || isExact(search);
  if (!(ratio > 1e-3 || (fine && tried <= rss * (1 + 1e-9)))) return false;
  if (fine || ratio > 0.75) search.damping = search.damping > 1e-7 ? search.damping / 10 : 0;
  else if (ratio < 0.25) search.damping = Math.max(1e-4, search.damping * 4);
  if (!fine) {
    search.flat = rss - tried <= 1e-9 * rss && search.offset > 1e-4 ? search.flat + 1 : 0;
  }
  search.there = search.here;
  search.here = there;
  search.rss = tried;
  return true;
}

/**
 * Columns that cannot be told apart while the residuals hardly fall: the
 * parameters are on their way to infinity.
 */
function runsOff({ problem, memory, offset, rss }: Search, tenAgo: number): boolean {
  return (
    offset > 1e-3 &&
    rss > tenAgo * (1 - 1e-3) &&
    leastOwnPart(memory.a, problem.n, problem.m) < 1e-6
  );
}
