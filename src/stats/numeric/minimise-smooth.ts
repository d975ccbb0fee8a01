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
  const n = start.length;
  let evaluations = 0;
  const call = (x: Float64Array, g: Float64Array) => {
    evaluations++;
    const value = f(x, g);
    return Number.isFinite(value) && g.every(Number.isFinite) ? value : Number.POSITIVE_INFINITY;
  };
  let x = Float64Array.from(start);
  let g = new Float64Array(n);
  let value = call(x, g);
  let hessian: Float64Array = new Float64Array(n * n);
  let converged = n === 0;
  const slopeOf = (at: Float64Array, gr: Float64Array) => {
    let s = 0;
    for (let i = 0; i < n; i++)
      s = Math.max(s, Math.abs(gr[i]!) * Math.max(Math.abs(at[i]!), 0.01));
    return s / Math.max(1, Math.abs(value) * 1e-3);
  };
  for (let round = 0; round < 6 && n > 0 && Number.isFinite(value); round++) {
    quasiNewton();
    if (rough) {
      converged = slopeOf(x, g) <= tolerance * 1e3;
      break;
    }
    polish();
    const slope = slopeOf(x, g);
    converged = slope <= tolerance * 100;
    if (!leaveSaddle()) break;
    converged = false;
  }
  return { x, value, gradient: g, hessian, slope: slopeOf(x, g), evaluations, converged };

  function quasiNewton(): void {
    const h = new Float64Array(n * n);
    const reset = () => {
      h.fill(0);
      let norm = 0;
      for (let i = 0; i < n; i++) norm = Math.max(norm, Math.abs(g[i]!));
      const size = Math.min(1, 0.5 / Math.max(norm, 1e-300));
      for (let i = 0; i < n; i++) h[i * n + i] = size;
    };
    reset();
    let fresh = true;
    const next = new Float64Array(n);
    let ng = new Float64Array(n);
    for (let it = 0; it < maxIterations; it++) {
      if (slopeOf(x, g) <= tolerance * (rough ? 1e3 : 1e4)) return;
      const d = new Float64Array(n);
      let descent = 0;
      for (let i = 0; i < n; i++) {
        let s = 0;
        for (let j = 0; j < n; j++) s -= h[i * n + j]! * g[j]!;
        d[i] = s;
        descent += s * g[i]!;
      }
      if (!(descent < 0)) {
        if (fresh) return;
        reset();
        fresh = true;
        continue;
      }
      let step = 1;
      let trial = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 40; k++) {
        for (let i = 0; i < n; i++) next[i] = x[i]! + step * d[i]!;
        trial = call(next, ng);
        if (trial <= value + 1e-4 * step * descent) break;
        const fit = -(descent * step * step) / (2 * (trial - value - descent * step));
        step = Number.isFinite(fit) ? Math.min(0.5 * step, Math.max(0.1 * step, fit)) : 0.2 * step;
        trial = Number.POSITIVE_INFINITY;
      }
      if (!Number.isFinite(trial)) {
        if (fresh) return;
        reset();
        fresh = true;
        continue;
      }
      let sy = 0;
      const s = new Float64Array(n);
      const y = new Float64Array(n);
      for (let i = 0; i < n; i++) {
        s[i] = next[i]! - x[i]!;
        y[i] = ng[i]! - g[i]!;
        sy += s[i]! * y[i]!;
      }
      let yy = 0;
      for (let i = 0; i < n; i++) yy += y[i]! * y[i]!;
      if (fresh && sy > 0) {
        h.fill(0);
        for (let i = 0; i < n; i++) h[i * n + i] = sy / yy;
      }
      if (sy > 1e-12 * Math.sqrt(yy)) updateInverse(h, s, y, sy);
      fresh = false;
      const drop = value - trial;
      x = Float64Array.from(next);
      const kept = g;
      g = ng;
      ng = kept;
      value = trial;
      if (drop <= 1e-15 * Math.abs(value)) return;
    }
  }

  function updateInverse(h: Float64Array, s: Float64Array, y: Float64Array, sy: number): void {
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
  function polish(): void {
    let l: Matrix | null = null;
    hessian = hessianByDifferences(call, x);
    for (let it = 0; it < 12; it++) {
      const before = slopeOf(x, g);
      if (before <= tolerance * 1e-3) return;
      l ??= choleskyFactor(makeMatrix(n, n, Float64Array.from(hessian)), 1e-12);
      if (l === null) return;
      const d = solveCholesky(l, g);
      const next = Float64Array.from(x, (v, i) => v - d[i]!);
      const ng = new Float64Array(n);
      const trial = call(next, ng);
      if (!(trial <= value + 1e-9 * Math.max(1, Math.abs(value)))) return;
      const after = slopeOf(next, ng);
      if (!(after < before)) return;
      x = next;
      g = ng;
      value = trial;
      if (after > 0.1 * before) {
        hessian = hessianByDifferences(call, x);
        l = null;
      }
    }
  }

  function leaveSaddle(): boolean {
    const { values, vectors } = symmetricEigen(makeMatrix(n, n, Float64Array.from(hessian)));
    let worst = 0;
    for (let i = 1; i < n; i++) if (values[i]! < values[worst]!) worst = i;
    const largest = Math.max(...Array.from(values, Math.abs), 1e-300);
    if (!(values[worst]! < -1e-6 * largest)) return false;
    const ng = new Float64Array(n);
    for (const sign of [1, -1]) {
      for (const size of [0.3, 0.03]) {
        const next = Float64Array.from(
          x,
          (v, i) => v + sign * size * Math.max(1, Math.abs(v)) * vectors.data[i * n + worst]!,
        );
        const trial = call(next, ng);
        if (trial < value - 1e-10 * Math.max(1, Math.abs(value))) {
          x = next;
          g = Float64Array.from(ng);
          value = trial;
          return true;
        }
      }
    }
    return false;
  }
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
