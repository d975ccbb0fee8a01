import { type FilterGains, filterGains, type GroupParameters, type GroupSeries } from "./group.js";

/** A series with its basis columns and which of its values speak for the group. */
export interface FitSeries extends GroupSeries {
  /** Number of values to read, from the first. */
  readonly count: number;
  /** Basis of the mean, `count x width`, row by row. */
  readonly basis: Float64Array;
  /** 1 where the value speaks for the mean of the group, 0 where it does not. */
  readonly serves: ArrayLike<number>;
}

export interface GroupPrior {
  /** Centre and standard deviation of log noiseSd, log slopeSd, log walkSd. */
  readonly logNoise: readonly [number, number];
  readonly logSlope: readonly [number, number];
  readonly logWalk: readonly [number, number];
  /** Centre and standard deviation of the logit of the persistent share. */
  readonly logitShare: readonly [number, number];
}

export interface GroupFit {
  readonly parameters: GroupParameters;
  /** Minus twice the penalised restricted log likelihood, up to a constant. */
  readonly criterion: number;
  readonly evaluations: number;
  readonly stoppedBy: "small step" | "out of steps";
}

/** Sums of products of filtered columns: X'X, X'y and y'y of one series. */
export interface GroupSums {
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  yy: number;
}

export function newSums(width: number): GroupSums {
  return { xx: new Float64Array(width * width), xy: new Float64Array(width), yy: 0 };
}

/**
 * Adds to `sums` the products of the filtered columns of a series, the first
 * value left out (it only sets the free level). `filtered` holds, per value, the
 * `width` basis columns and then y.
 */
export function addSums(
  sums: GroupSums,
  filtered: Float64Array,
  count: number,
  width: number,
  serves: ArrayLike<number> | null,
): void {
  const stride = width + 1;
  const { xx, xy } = sums;
  for (let j = 1; j < count; j++) {
    if (serves !== null && serves[j] === 0) continue;
    const at = j * stride;
    const y = filtered[at + width]!;
    sums.yy += y * y;
    for (let p = 0; p < width; p++) {
      const x = filtered[at + p]!;
      if (x === 0) continue;
      xy[p]! += x * y;
      for (let q = 0; q <= p; q++) xx[p * width + q]! += x * filtered[at + q]!;
    }
  }
}

/** Filters the basis columns and y of a series into `out` (`count x (width + 1)`). */
export function filterSeries(
  series: FitSeries,
  gains: FilterGains,
  width: number,
  out: Float64Array,
): void {
  const stride = width + 1;
  const { table, count } = gains;
  const a = new Float64Array(stride);
  const b = new Float64Array(stride);
  const u = new Float64Array(stride);
  for (let j = 0; j < count; j++) {
    const at = j * 7;
    const dt = table[at]!;
    const decayB = table[at + 1]!;
    const decayU = table[at + 2]!;
    const ka = table[at + 3]!;
    const kb = table[at + 4]!;
    const ku = table[at + 5]!;
    const root = table[at + 6]!;
    const row = j * width;
    const to = j * stride;
    for (let c = 0; c < stride; c++) {
      let ca = a[c]!;
      let cb = b[c]!;
      let cu = u[c]!;
      if (j > 0) {
        ca += cb * dt;
        cb *= decayB;
        cu *= decayU;
      }
      const v = (c < width ? series.basis[row + c]! : series.y[j]!) - ca - cu;
      a[c] = ca + ka * v;
      b[c] = cb + kb * v;
      u[c] = cu + ku * v;
      out[to + c] = v * root;
    }
  }
}

/** In-place Cholesky of the lower triangle of a small matrix; false when not positive definite. */
export function factorInPlace(m: Float64Array, size: number): boolean {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let s = m[i * size + j]!;
      for (let k = 0; k < j; k++) s -= m[i * size + k]! * m[j * size + k]!;
      if (i === j) {
        if (!(s > 0)) return false;
        m[i * size + i] = Math.sqrt(s);
      } else m[i * size + j] = s / m[j * size + j]!;
    }
  }
  return true;
}

/** Solves L x = b in place, L being the factor of {@link factorInPlace}. */
export function solveLowerInPlace(l: Float64Array, size: number, b: Float64Array): void {
  for (let i = 0; i < size; i++) {
    let s = b[i]!;
    for (let k = 0; k < i; k++) s -= l[i * size + k]! * b[k]!;
    b[i] = s / l[i * size + i]!;
  }
}

/** Solves L' x = b in place. */
export function solveUpperInPlace(l: Float64Array, size: number, b: Float64Array): void {
  for (let i = size - 1; i >= 0; i--) {
    let s = b[i]!;
    for (let k = i + 1; k < size; k++) s -= l[k * size + i]! * b[k]!;
    b[i] = s / l[i * size + i]!;
  }
}

/**
 * Estimates the parameters of a group of series by penalised restricted maximum
 * likelihood: the mean curve is profiled out by generalised least squares under
 * its smoothness precision, and a quasi-Newton search (BFGS, forward
 * differences) runs over log standard deviations and the logit of the persistent share. Reports
 * what stopped it; running out of steps is not convergence.
 *
 * @example fitGroup(series, width, precision, prior, start, 30).parameters.noiseSd // 0.0148
 */
export function fitGroup(
  series: readonly FitSeries[],
  width: number,
  precision: Float64Array,
  prior: GroupPrior,
  start: GroupParameters,
  maxSteps = 30,
): GroupFit {
  let evaluations = 0;
  const longest = series.reduce((most, s) => Math.max(most, s.count), 0);
  const table = new Float64Array(longest * 7);
  const filtered = new Float64Array(longest * (width + 1));
  const sums = newSums(width);
  const half = new Float64Array(width * width);
  const right = new Float64Array(width);
  const objective = (x: readonly number[]): number => {
    evaluations++;
    const parameters = unpack(x);
    sums.xx.fill(0);
    sums.xy.fill(0);
    sums.yy = 0;
    let value = 0;
    for (const s of series) {
      if (s.count < 2) continue;
      const gains = filterGains(s, s.count, parameters, table);
      filterSeries(s, gains, width, filtered);
      addSums(sums, filtered, s.count, width, s.serves);
      for (let j = 1; j < s.count; j++) {
        if (s.serves[j] !== 0) value -= 2 * Math.log(table[j * 7 + 6]!);
      }
    }
    for (let i = 0; i < width * width; i++) half[i] = sums.xx[i]! + precision[i]!;
    right.set(sums.xy);
    if (!factorInPlace(half, width)) return Number.POSITIVE_INFINITY;
    solveLowerInPlace(half, width, right);
    let explained = 0;
    for (let p = 0; p < width; p++) {
      explained += right[p]! * right[p]!;
      value += 2 * Math.log(half[p * width + p]!);
    }
    value += sums.yy - explained;
    return value + penalty(x, prior);
  };
  const result = quasiNewton(objective, pack(start), maxSteps);
  return {
    parameters: unpack(result.x),
    criterion: result.value,
    evaluations,
    stoppedBy: result.stoppedBy,
  };
}

function pack(p: GroupParameters): number[] {
  const share = Math.min(0.98, Math.max(0.02, p.persistentShare));
  return [
    Math.log(p.noiseSd),
    Math.log(p.slopeSd),
    Math.log(p.walkSd),
    Math.log(share / (1 - share)),
  ];
}

function unpack(x: readonly number[]): GroupParameters {
  return {
    noiseSd: Math.exp(x[0]!),
    slopeSd: Math.exp(x[1]!),
    walkSd: Math.exp(x[2]!),
    persistentShare: 1 / (1 + Math.exp(-x[3]!)),
  };
}

function penalty(x: readonly number[], prior: GroupPrior): number {
  const square = (v: number, [centre, sd]: readonly [number, number]) => ((v - centre) / sd) ** 2;
  return (
    square(x[0]!, prior.logNoise) +
    square(x[1]!, prior.logSlope) +
    square(x[2]!, prior.logWalk) +
    square(x[3]!, prior.logitShare)
  );
}

function quasiNewton(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  maxSteps: number,
) {
  const n = start.length;
  let x = start.slice();
  let value = f(x);
  const gradient = (at: readonly number[], here: number) =>
    at.map((v, i) => {
      const h = 1e-4;
      const moved = at.slice();
      moved[i] = v + h;
      return (f(moved) - here) / h;
    });
  let g = gradient(x, value);
  let inverse = identity(n, 0.05);
  for (let step = 0; step < maxSteps; step++) {
    let d = inverse.map((row) => -row.reduce((s, v, k) => s + v * g[k]!, 0));
    let slope = d.reduce((s, v, k) => s + v * g[k]!, 0);
    if (!(slope < 0)) {
      inverse = identity(n, 0.05);
      d = g.map((v) => -0.05 * v);
      slope = d.reduce((s, v, k) => s + v * g[k]!, 0);
    }
    const longest = Math.max(...d.map(Math.abs));
    let t = longest > 1 ? 1 / longest : 1;
    let next = x;
    let nextValue = value;
    let moved = false;
    for (let halving = 0; halving < 12; halving++) {
      next = x.map((v, k) => v + t * d[k]!);
      nextValue = f(next);
      if (nextValue <= value + 1e-4 * t * slope) {
        moved = true;
        break;
      }
      t /= 3;
    }
    if (!moved) return { x, value, stoppedBy: "small step" as const };
    const nextG = gradient(next, nextValue);
    const s = next.map((v, k) => v - x[k]!);
    const y = nextG.map((v, k) => v - g[k]!);
    const sy = s.reduce((sum, v, k) => sum + v * y[k]!, 0);
    if (sy > 1e-10) inverse = bfgs(inverse, s, y, sy);
    const gained = value - nextValue;
    x = next;
    value = nextValue;
    g = nextG;
    if (gained < 0.03 && Math.max(...s.map(Math.abs)) < 0.2) {
      return { x, value, stoppedBy: "small step" as const };
    }
  }
  return { x, value, stoppedBy: "out of steps" as const };
}

function identity(n: number, scale: number): number[][] {
  return Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => (i === j ? scale : 0)),
  );
}

function bfgs(h: readonly number[][], s: readonly number[], y: readonly number[], sy: number) {
  const n = s.length;
  const hy = h.map((row) => row.reduce((sum, v, k) => sum + v * y[k]!, 0));
  const yhy = hy.reduce((sum, v, k) => sum + v * y[k]!, 0);
  return Array.from({ length: n }, (_, i) =>
    Array.from(
      { length: n },
      (_, j) =>
        h[i]![j]! + ((1 + yhy / sy) * s[i]! * s[j]!) / sy - (hy[i]! * s[j]! + s[i]! * hy[j]!) / sy,
    ),
  );
}
