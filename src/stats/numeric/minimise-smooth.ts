import { choleskyFactor, solveCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";

/**
 * Minimises a smooth function of a few variables with gradient: quasi-Newton
 * (BFGS, backtracking with a curvature check) down to a small gradient, then
 * Newton steps with a Hessian from differences of the gradient. A direction of
 * negative curvature at the end is followed, so that the point reported is a
 * minimum and not a saddle. Source: Nocedal and Wright (2006), chapters 3 and 6.
 */
export interface SmoothMinimum {
  readonly x: Float64Array;
  readonly value: number;
  readonly gradient: Float64Array;
  /** Row by row; from central differences of the gradient. */
  readonly hessian: Float64Array;
  /** Largest |gradient| in units of the variable's own size. */
  readonly slope: number;
  readonly evaluations: number;
  readonly converged: boolean;
}

export type SmoothFunction = (x: Float64Array, gradient: Float64Array) => number;

export interface MinimiseOptions {
  readonly maxIterations?: number;
  /** Relative gradient at which the search ends. */
  readonly tolerance?: number;
  /** Skip the Newton polish and the Hessian (an inner search that will be repeated). */
  readonly rough?: boolean;
}

export function minimiseSmooth(
  f: SmoothFunction,
  start: Float64Array,
  options: MinimiseOptions = {},
): SmoothMinimum {
  const { maxIterations = 500, tolerance = 1e-9, rough = false } = options;
  const at = standAt(f, start);
  const { n } = at;
  let converged = n === 0;
  for (let round = 0; round < 6 && n > 0 && Number.isFinite(at.value); round++) {
    quasiNewton(at, maxIterations, tolerance * (rough ? 1e3 : 1e4));
    if (rough) {
      converged = slopeOf(at) <= tolerance * 1e3;
      break;
    }
    polish(at, tolerance);
    converged = slopeOf(at) <= tolerance * 100;
    if (!leaveSaddle(at)) break;
    converged = false;
  }
  const { x, value, gradient, hessian, evaluations } = at;
  return { x, value, gradient, hessian, slope: slopeOf(at), evaluations, converged };
}

/** Where the search stands. */
interface Standing {
  readonly f: SmoothFunction;
  readonly n: number;
  x: Float64Array;
  gradient: Float64Array;
  value: number;
  hessian: Float64Array;
  evaluations: number;
}

function standAt(f: SmoothFunction, start: Float64Array): Standing {
  const n = start.length;
  const at: Standing = {
    f,
    n,
    x: Float64Array.from(start),
    gradient: new Float64Array(n),
    value: Number.POSITIVE_INFINITY,
    hessian: new Float64Array(n * n),
    evaluations: 0,
  };
  at.value = call(at, at.x, at.gradient);
  return at;
}

/** The value, infinite where it or its gradient is no number. */
function call(at: Standing, x: Float64Array, gradient: Float64Array): number {
  at.evaluations++;
  const value = at.f(x, gradient);
  return Number.isFinite(value) && gradient.every(Number.isFinite)
    ? value
    : Number.POSITIVE_INFINITY;
}

/** Largest |gradient| in units of the variable's own size, here or at a point beside. */
function slopeOf(at: Standing, x = at.x, gradient = at.gradient): number {
  let s = 0;
  for (let i = 0; i < at.n; i++) {
    s = Math.max(s, Math.abs(gradient[i]!) * Math.max(Math.abs(x[i]!), 0.01));
  }
  return s / Math.max(1, Math.abs(at.value) * 1e-3);
}

/** BFGS steps until the slope is `enough`, nothing is gained, or no step goes down. */
function quasiNewton(at: Standing, maxIterations: number, enough: number): void {
  const { n } = at;
  const h = new Float64Array(n * n);
  startInverse(h, at.gradient);
  let fresh = true;
  const next = new Float64Array(n);
  let nextGradient: Float64Array = new Float64Array(n);
  for (let it = 0; it < maxIterations; it++) {
    if (slopeOf(at) <= enough) return;
    const { d, descent } = downhill(h, at.gradient);
    const trial =
      descent < 0 ? backtrack(at, d, descent, next, nextGradient) : Number.POSITIVE_INFINITY;
    if (!Number.isFinite(trial)) {
      if (fresh) return;
      startInverse(h, at.gradient);
      fresh = true;
      continue;
    }
    learnCurvature(h, at, next, nextGradient, fresh);
    fresh = false;
    const drop = at.value - trial;
    const kept = at.gradient;
    at.x = Float64Array.from(next);
    at.gradient = nextGradient;
    at.value = trial;
    nextGradient = kept;
    if (drop <= 1e-15 * Math.abs(trial)) return;
  }
}

/** A first inverse Hessian: a step of at most one half along any variable. */
function startInverse(h: Float64Array, gradient: Float64Array): void {
  const n = gradient.length;
  h.fill(0);
  let norm = 0;
  for (let i = 0; i < n; i++) norm = Math.max(norm, Math.abs(gradient[i]!));
  const size = Math.min(1, 0.5 / Math.max(norm, 1e-300));
  for (let i = 0; i < n; i++) h[i * n + i] = size;
}

/** The quasi-Newton direction and how fast the value falls along it. */
function downhill(h: Float64Array, gradient: Float64Array): { d: Float64Array; descent: number } {
  const n = gradient.length;
  const d = new Float64Array(n);
  let descent = 0;
  for (let i = 0; i < n; i++) {
    let s = 0;
    for (let j = 0; j < n; j++) s -= h[i * n + j]! * gradient[j]!;
    d[i] = s;
    descent += s * gradient[i]!;
  }
  return { d, descent };
}

/** Shortens the step until the value falls by its share; infinite when none does. */
function backtrack(
  at: Standing,
  d: Float64Array,
  descent: number,
  next: Float64Array,
  nextGradient: Float64Array,
): number {
  let step = 1;
  for (let k = 0; k < 40; k++) {
    for (let i = 0; i < at.n; i++) next[i] = at.x[i]! + step * d[i]!;
    const trial = call(at, next, nextGradient);
    if (trial <= at.value + 1e-4 * step * descent) return trial;
    const fit = -(descent * step * step) / (2 * (trial - at.value - descent * step));
    step = Number.isFinite(fit) ? Math.min(0.5 * step, Math.max(0.1 * step, fit)) : 0.2 * step;
  }
  return Number.POSITIVE_INFINITY;
}

/** What the step from here to `next` says of the curvature goes into the inverse Hessian. */
function learnCurvature(
  h: Float64Array,
  at: Standing,
  next: Float64Array,
  nextGradient: Float64Array,
  fresh: boolean,
): void {
  const { n } = at;
  const s = new Float64Array(n);
  const y = new Float64Array(n);
  let sy = 0;
  for (let i = 0; i < n; i++) {
    s[i] = next[i]! - at.x[i]!;
    y[i] = nextGradient[i]! - at.gradient[i]!;
    sy += s[i]! * y[i]!;
  }
  let yy = 0;
  for (let i = 0; i < n; i++) yy += y[i]! * y[i]!;
  if (fresh && sy > 0) {
    h.fill(0);
    for (let i = 0; i < n; i++) h[i * n + i] = sy / yy;
  }
  if (sy > 1e-12 * Math.sqrt(yy)) updateInverse(h, s, y, sy);
}

function updateInverse(h: Float64Array, s: Float64Array, y: Float64Array, sy: number): void {
  const n = s.length;
  const hy = new Float64Array(n);
  let yhy = 0;
  for (let i = 0; i < n; i++) {
    let t = 0;
    for (let j = 0; j < n; j++) t += h[i * n + j]! * y[j]!;
    hy[i] = t;
    yhy += t * y[i]!;
  }
  const a = (1 + yhy / sy) / sy;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      h[i * n + j]! += a * s[i]! * s[j]! - (hy[i]! * s[j]! + s[i]! * hy[j]!) / sy;
    }
  }
}

/** Newton steps; one Hessian serves several of them as long as the slope falls tenfold. */
function polish(at: Standing, tolerance: number): void {
  const { n } = at;
  const hessianHere = () => hessianByDifferences((x, g) => call(at, x, g), at.x);
  let l: Matrix | null = null;
  at.hessian = hessianHere();
  for (let it = 0; it < 12; it++) {
    const before = slopeOf(at);
    if (before <= tolerance * 1e-3) return;
    l ??= choleskyFactor(makeMatrix(n, n, Float64Array.from(at.hessian)), 1e-12);
    if (l === null) return;
    const d = solveCholesky(l, at.gradient);
    const next = Float64Array.from(at.x, (v, i) => v - d[i]!);
    const nextGradient = new Float64Array(n);
    const trial = call(at, next, nextGradient);
    if (!(trial <= at.value + 1e-9 * Math.max(1, Math.abs(at.value)))) return;
    const after = slopeOf(at, next, nextGradient);
    if (!(after < before)) return;
    at.x = next;
    at.gradient = nextGradient;
    at.value = trial;
    if (after > 0.1 * before) {
      at.hessian = hessianHere();
      l = null;
    }
  }
}

/** Goes down along the direction of most negative curvature; false where there is none. */
function leaveSaddle(at: Standing): boolean {
  const { n, hessian } = at;
  const { values, vectors } = symmetricEigen(makeMatrix(n, n, Float64Array.from(hessian)));
  let worst = 0;
  for (let i = 1; i < n; i++) if (values[i]! < values[worst]!) worst = i;
  const largest = Math.max(...Array.from(values, Math.abs), 1e-300);
  if (!(values[worst]! < -1e-6 * largest)) return false;
  const gradient = new Float64Array(n);
  for (const sign of [1, -1]) {
    for (const size of [0.3, 0.03]) {
      const next = Float64Array.from(
        at.x,
        (v, i) => v + sign * size * Math.max(1, Math.abs(v)) * vectors.data[i * n + worst]!,
      );
      const trial = call(at, next, gradient);
      if (trial < at.value - 1e-10 * Math.max(1, Math.abs(at.value))) {
        at.x = next;
        at.gradient = gradient;
        at.value = trial;
        return true;
      }
    }
  }
  return false;
}

/**
 * Newton steps with a Hessian already known from nearby, for a search repeated
 * with little changed; `null` when they do not lead to a flat point in a few steps.
 */
export function minimiseNearby(
  f: SmoothFunction,
  start: Float64Array,
  hessian: Float64Array,
  tolerance: number,
): SmoothMinimum | null {
  const n = start.length;
  const l = choleskyFactor(makeMatrix(n, n, Float64Array.from(hessian)), 1e-10);
  if (l === null) return null;
  let x = Float64Array.from(start);
  const gradient = new Float64Array(n);
  let value = f(x, gradient);
  for (let evaluations = 1; evaluations <= 8; evaluations++) {
    let slope = 0;
    for (let i = 0; i < n; i++) {
      slope = Math.max(slope, Math.abs(gradient[i]!) * Math.max(Math.abs(x[i]!), 0.01));
    }
    slope /= Math.max(1, Math.abs(value) * 1e-3);
    if (slope <= tolerance)
      return { x, value, gradient, hessian, slope, evaluations, converged: true };
    const d = solveCholesky(l, gradient);
    x = x.map((v, i) => v - d[i]!);
    const next = f(x, gradient);
    if (!(next <= value + 1e-9 * Math.max(1, Math.abs(value)))) return null;
    value = next;
  }
  return null;
}

/** The symmetric Hessian at x by central differences of the gradient. */
export function hessianByDifferences(f: SmoothFunction, x: Float64Array): Float64Array {
  const n = x.length;
  const h = new Float64Array(n * n);
  const up = new Float64Array(n);
  const down = new Float64Array(n);
  const at = Float64Array.from(x);
  for (let j = 0; j < n; j++) {
    const step = 1e-5 * Math.max(Math.abs(x[j]!), 0.1);
    at[j] = x[j]! + step;
    f(at, up);
    at[j] = x[j]! - step;
    f(at, down);
    at[j] = x[j]!;
    for (let i = 0; i < n; i++) h[i * n + j] = (up[i]! - down[i]!) / (2 * step);
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const s = (h[i * n + j]! + h[j * n + i]!) / 2;
      h[i * n + j] = s;
      h[j * n + i] = s;
    }
  }
  return h;
}
