import {
  factorInPlace,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../linear-algebra/small-matrix.js";
import type { MeanFunction } from "./model.js";
import { type Moment, makeMoment } from "./moment.js";
import type { IndividualPrior } from "./prior.js";

/** What is known of one individual, and the room its updates work in; k parameters. */
export interface Posterior {
  readonly prior: IndividualPrior;
  readonly mean: MeanFunction;
  readonly centre: Float64Array;
  readonly base: Moment;
  /** The same with each variance moved up and down: what is not known of the variances. */
  readonly moved: readonly { readonly up: Moment; readonly down: Moment }[];
  movedStale: boolean;
  xs: Float64Array;
  ys: Float64Array;
  /** The mean that each reading's spread follows: the one expected before it was taken. */
  weightMean: Float64Array;
  count: number;
  /** Mode, standardised. */
  readonly t: Float64Array;
  readonly eta: Float64Array;
  readonly phi: Float64Array;
  readonly covariance: Float64Array;
  converged: boolean;
  /** d phi / d eta, and d mean / d phi at the point last looked at. */
  readonly slope: Float64Array;
  readonly d: Float64Array;
  readonly room: Room;
}

interface Room {
  readonly row: Float64Array;
  readonly last: Float64Array;
  readonly gram: Float64Array;
  readonly right: Float64Array;
  readonly trial: Float64Array;
  readonly step: Float64Array;
  readonly probe: Float64Array;
  /** Lower Cholesky factor of I + J'J, left behind by the last search for a mode. */
  readonly factor: Float64Array;
  readonly half: Float64Array;
}

/** Before any observation: the prior. */
export function beginPosterior(prior: IndividualPrior, mean: MeanFunction): Posterior {
  const k = prior.mean.length;
  const centre = Float64Array.from(prior.mean);
  const vector = () => new Float64Array(k);
  const square = () => new Float64Array(k * k);
  const posterior: Posterior = {
    prior,
    mean,
    centre,
    base: makeMoment(prior.between, prior.meanCovariance, prior.sigma, k),
    moved: prior.moved.map((m) => ({
      up: makeMoment(m.up.between, prior.meanCovariance, m.up.sigma, k),
      down: makeMoment(m.down.between, prior.meanCovariance, m.down.sigma, k),
    })),
    movedStale: true,
    xs: new Float64Array(64),
    ys: new Float64Array(64),
    weightMean: new Float64Array(64),
    count: 0,
    t: vector(),
    eta: Float64Array.from(centre),
    phi: vector(),
    covariance: square(),
    converged: true,
    slope: vector(),
    d: vector(),
    room: {
      row: vector(),
      last: vector(),
      gram: square(),
      right: vector(),
      trial: vector(),
      step: vector(),
      probe: vector(),
      factor: square(),
      half: square(),
    },
  };
  update(posterior);
  return posterior;
}

/** Takes in one more observation. */
export function takeIn(posterior: Posterior, x: number, y: number): void {
  const { count } = posterior;
  if (count === posterior.xs.length) {
    posterior.xs = twiceAsLong(posterior.xs);
    posterior.ys = twiceAsLong(posterior.ys);
    posterior.weightMean = twiceAsLong(posterior.weightMean);
  }
  posterior.xs[count] = x;
  posterior.ys[count] = y;
  toNatural(posterior, posterior.eta);
  posterior.weightMean[count] = posterior.mean(x, posterior.phi, posterior.d, 0);
  posterior.count++;
  update(posterior);
}

/** Forgets all observations. */
export function forget(posterior: Posterior): void {
  posterior.count = 0;
  posterior.t.fill(0);
  update(posterior);
}

function twiceAsLong(a: Float64Array): Float64Array {
  const b = new Float64Array(2 * a.length);
  b.set(a);
  return b;
}

/** Parameters on their natural scale, with their slopes, into `phi` and `slope`. */
export function toNatural({ prior, phi, slope }: Posterior, at: Float64Array): void {
  for (let j = 0; j < at.length; j++) {
    if (prior.logScale[j] === 1) {
      phi[j] = Math.exp(at[j]!);
      slope[j] = phi[j]!;
    } else {
      phi[j] = at[j]!;
      slope[j] = 1;
    }
  }
}

/** Standard deviation of a reading whose mean is `f`. */
export function spreadAt({ power }: IndividualPrior, f: number, sigma: number): number {
  return power === null ? sigma : sigma * Math.max(Math.abs(f), 1e-8) ** power;
}

function update(posterior: Posterior): void {
  const { base, t, eta, covariance } = posterior;
  posterior.converged = settle(posterior, base, t);
  toWorking(posterior, base, t, eta);
  spreadOut(posterior, base, covariance);
  toNatural(posterior, eta);
  posterior.movedStale = true;
}

/** Modes and covariances with the variances moved; only needed for intervals. */
export function updateMoved(posterior: Posterior): void {
  if (!posterior.movedStale) return;
  for (const pair of posterior.moved) {
    for (const m of [pair.up, pair.down]) {
      m.t.set(posterior.t);
      settle(posterior, m, m.t);
      toWorking(posterior, m, m.t, m.eta);
      spreadOut(posterior, m, m.covariance);
    }
  }
  toNatural(posterior, posterior.eta);
  posterior.movedStale = false;
}

/** centre + L t, into `out`. */
function toWorking({ centre }: Posterior, m: Moment, t: Float64Array, out: Float64Array): void {
  const k = centre.length;
  for (let i = 0; i < k; i++) {
    let s = centre[i]!;
    for (let j = 0; j <= i; j++) s += m.l[i * k + j]! * t[j]!;
    out[i] = s;
  }
}

/** -2 log posterior (up to constants) at t; leaves the normal equations behind. */
function pass(posterior: Posterior, m: Moment, at: Float64Array): number {
  const { prior, mean, xs, ys, weightMean, count, phi, slope, d } = posterior;
  const { row, last, gram, right, trial } = posterior.room;
  const k = at.length;
  toWorking(posterior, m, at, trial);
  toNatural(posterior, trial);
  gram.fill(0);
  right.fill(0);
  let sum = 0;
  let before = 0;
  for (let i = 0; i < count; i++) {
    const f = mean(xs[i]!, phi, d, 0);
    const w = 1 / spreadAt(prior, weightMean[i]!, m.sigma);
    let r = (ys[i]! - f) * w;
    for (let a = 0; a < k; a++) {
      let s = 0;
      for (let j = a; j < k; j++) s += d[j]! * slope[j]! * m.l[j * k + a]!;
      row[a] = s * w;
    }
    if (prior.phi !== null) {
      const own = r;
      if (i > 0) {
        const rho = prior.phi ** (xs[i]! - xs[i - 1]!);
        const scale = 1 / Math.sqrt(1 - rho * rho);
        r = (r - rho * before) * scale;
        for (let a = 0; a < k; a++) {
          const keep = row[a]!;
          row[a] = (keep - rho * last[a]!) * scale;
          last[a] = keep;
        }
      } else last.set(row);
      before = own;
    }
    sum += r * r;
    for (let a = 0; a < k; a++) {
      right[a]! += row[a]! * r;
      for (let b = 0; b <= a; b++) gram[a * k + b]! += row[a]! * row[b]!;
    }
  }
  for (let a = 0; a < k; a++) sum += at[a]! * at[a]!;
  return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
}

/** Mode of t under one moment by damped Gauss-Newton; leaves the factor of I + J'J behind. */
function settle(posterior: Posterior, m: Moment, at: Float64Array): boolean {
  const { right, step, probe } = posterior.room;
  const k = at.length;
  let value = pass(posterior, m, at);
  if (!Number.isFinite(value)) {
    at.fill(0);
    value = pass(posterior, m, at);
  }
  for (let it = 0; it < 50; it++) {
    for (let a = 0; a < k; a++) step[a] = right[a]! - at[a]!;
    factorise(posterior.room, k);
    solveLowerInPlace(posterior.room.factor, k, step);
    solveUpperInPlace(posterior.room.factor, k, step);
    let largest = 0;
    for (let a = 0; a < k; a++) largest = Math.max(largest, Math.abs(step[a]!));
    if (!(largest < Number.POSITIVE_INFINITY)) return false;
    if (largest < 1e-7) return true;
    const most = value * (1 + 1e-12) + 1e-12;
    let size = 1;
    let next = Number.POSITIVE_INFINITY;
    for (let half = 0; half < 30; half++) {
      for (let a = 0; a < k; a++) probe[a] = at[a]! + size * step[a]!;
      next = pass(posterior, m, probe);
      if (next <= most) break;
      size /= 2;
    }
    if (!(next <= most)) {
      pass(posterior, m, at);
      return false;
    }
    at.set(probe);
    value = next;
  }
  return false;
}

/** Lower Cholesky factor of I + J'J. */
function factorise({ gram, factor }: Room, k: number): void {
  factor.set(gram);
  for (let a = 0; a < k; a++) factor[a * k + a]! += 1;
  if (!factorInPlace(factor, k)) factor.fill(Number.NaN);
}

/** Covariance of eta: L (I + J'J)^-1 L'. */
function spreadOut({ centre, room }: Posterior, m: Moment, out: Float64Array): void {
  const { factor, half } = room;
  const k = centre.length;
  // Rows of L F^-T.
  for (let i = 0; i < k; i++) {
    for (let a = 0; a < k; a++) {
      let s = a <= i ? m.l[i * k + a]! : 0;
      for (let b = 0; b < a; b++) s -= factor[a * k + b]! * half[i * k + b]!;
      half[i * k + a] = s / factor[a * k + a]!;
    }
  }
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      let s = 0;
      for (let a = 0; a < k; a++) s += half[i * k + a]! * half[j * k + a]!;
      out[i * k + j] = s;
    }
  }
}
