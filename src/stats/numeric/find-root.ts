export interface Root {
  readonly x: number;
  readonly value: number;
  readonly iterations: number;
  /** False when the interval holds no change of sign or the steps ran out. */
  readonly converged: boolean;
}

export interface FindRootOptions {
  /** Stop when the bracket is narrower than this (absolute). Default 1e-12. */
  readonly tolerance?: number;
  readonly maxIterations?: number;
}

/**
 * A root of a continuous function between `low` and `high`, where it must have
 * opposite signs. Source: R. P. Brent, Algorithms for Minimization without
 * Derivatives (1973), chapter 4.
 *
 * @example findRoot((x) => x * x - 2, 0, 2).x // 1.4142135623730951
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  options: FindRootOptions = {},
): Root {
  const { tolerance = 1e-12, maxIterations = 200 } = options;
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return { x: a, value: 0, iterations: 0, converged: true };
  if (fb === 0) return { x: b, value: 0, iterations: 0, converged: true };
  if (!(fa * fb < 0)) return { x: b, value: fb, iterations: 0, converged: false };
  let c = a;
  let fc = fa;
  let step = b - a;
  let before = step;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const allowed = 2.3e-16 * Math.abs(b) + tolerance / 2;
    const half = (c - b) / 2;
    if (Math.abs(half) <= allowed || fb === 0) {
      return { x: b, value: fb, iterations: iteration, converged: true };
    }
    let next = half;
    if (Math.abs(before) >= allowed && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const u = fa / fc;
        const r = fb / fc;
        p = s * (2 * half * u * (u - r) - (b - a) * (r - 1));
        q = (u - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * half * q - Math.abs(allowed * q), Math.abs(before * q)))
        next = p / q;
    }
    before = next === half ? half : step;
    step = next;
    a = b;
    fa = fb;
    b += Math.abs(step) > allowed ? step : Math.sign(half) * allowed;
    fb = f(b);
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      before = step;
    }
  }
  return { x: b, value: fb, iterations: maxIterations, converged: false };
}
