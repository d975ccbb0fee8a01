import { studentTQuantile } from "../distributions/student-t.js";
import type { MeanFunction } from "./model.js";
import { type Moment, makeMoment } from "./moment.js";
import type { IndividualPrior } from "./prior.js";

/** Everything known of one individual after its observations. Reused by the next update. */
export interface Individual {
  /** Observations taken in so far. */
  readonly count: number;
  /** Most probable parameters, working scale (log where so marked), and natural scale. */
  readonly eta: Float64Array;
  readonly phi: Float64Array;
  /** Covariance of `eta`, k x k. */
  readonly covariance: Float64Array;
  readonly converged: boolean;
  /** Takes in one more observation (x not before the last one where residuals correlate). */
  observe(x: number, y: number): void;
  /** Forgets all observations. */
  reset(): void;
  /** Expected mean at x with interval. */
  predict(x: number, options?: PredictionOptions): IndividualPrediction;
  /** Expected rise of the mean from x1 to x2 with interval. */
  predictRise(x1: number, x2: number, options?: PredictionOptions): IndividualPrediction;
}

export interface PredictionOptions {
  /**
   * "individual" (default): this individual given its observations. "population":
   * the average individual's curve and how well it is known.
   */
  readonly of?: "individual" | "population";
  /** "mean" (default): the true mean. "reading": the next observation, with its residual. */
  readonly what?: "mean" | "reading";
  /** Default 0.95. */
  readonly level?: number;
  /** Replaces the t quantile by a calibrated multiplier of the standard error. */
  readonly multiplier?: number;
}

export interface IndividualPrediction {
  readonly value: number;
  readonly se: number;
  readonly lower: number;
  readonly upper: number;
  /** Degrees of freedom behind the interval (Satterthwaite). */
  readonly df: number;
}

/**
 * The posterior of a new individual's curve, starting from the prior of a fitted
 * model and updated observation by observation.
 *
 * The parameters are normal around the population's mean; given observations,
 * their mode is found by Gauss-Newton and their covariance from the curvature
 * there, including what the fit does not know of the population mean. Standard
 * errors include the uncertainty of the variances (twice the variance of the
 * prediction as the variances move by their standard errors, after Prasad and
 * Rao 1990), and intervals use t with Satterthwaite degrees of freedom.
 *
 * @example
 * const one = makeIndividual(prior, mean); one.observe(3, 12.1); one.predict(10)
 */
export function makeIndividual(prior: IndividualPrior, mean: MeanFunction): Individual {
  const k = prior.mean.length;
  const centre = Float64Array.from(prior.mean);
  const base = makeMoment(prior.between, prior.meanCovariance, prior.sigma, k);
  const moved = prior.moved.map((m) => ({
    up: makeMoment(m.up.between, prior.meanCovariance, m.up.sigma, k),
    down: makeMoment(m.down.between, prior.meanCovariance, m.down.sigma, k),
  }));
  let xs = new Float64Array(64);
  let ys = new Float64Array(64);
  let count = 0;
  const eta = Float64Array.from(centre);
  const phi = new Float64Array(k);
  const slope = new Float64Array(k);
  const d = new Float64Array(k);
  const row = new Float64Array(k);
  const last = new Float64Array(k);
  const gram = new Float64Array(k * k);
  const right = new Float64Array(k);
  const t = new Float64Array(k);
  const trial = new Float64Array(k);
  const step = new Float64Array(k);
  const factor = new Float64Array(k * k);
  const covariance = new Float64Array(k * k);
  let converged = true;
  let movedStale = true;

  const natural = (at: Float64Array) => {
    for (let j = 0; j < k; j++) {
      if (prior.logScale[j] === 1) {
        phi[j] = Math.exp(at[j]!);
        slope[j] = phi[j]!;
      } else {
        phi[j] = at[j]!;
        slope[j] = 1;
      }
    }
  };
  const spreadAt = (f: number, sigma: number) =>
    prior.power === null ? sigma : sigma * Math.max(Math.abs(f), 1e-8) ** prior.power;

  /** -log posterior (up to constants) at t; collects the normal equations when asked. */
  function pass(m: Moment, at: Float64Array, collect: boolean): number {
    for (let i = 0; i < k; i++) {
      let s = centre[i]!;
      for (let j = 0; j <= i; j++) s += m.l[i * k + j]! * at[j]!;
      trial[i] = s;
    }
    natural(trial);
    let sum = 0;
    if (collect) {
      gram.fill(0);
      right.fill(0);
    }
    let before = 0;
    for (let i = 0; i < count; i++) {
      const f = mean(xs[i]!, phi, d, 0);
      const w = 1 / spreadAt(weightMean[i]!, m.sigma);
      let r = (ys[i]! - f) * w;
      if (collect) {
        for (let a = 0; a < k; a++) {
          let s = 0;
          for (let j = a; j < k; j++) s += d[j]! * slope[j]! * m.l[j * k + a]!;
          row[a] = s * w;
        }
      }
      if (prior.phi !== null) {
        const own = r;
        if (i > 0) {
          const rho = prior.phi ** (xs[i]! - xs[i - 1]!);
          const scale = 1 / Math.sqrt(1 - rho * rho);
          r = (r - rho * before) * scale;
          if (collect) {
            for (let a = 0; a < k; a++) {
              const keep = row[a]!;
              row[a] = (keep - rho * last[a]!) * scale;
              last[a] = keep;
            }
          }
        } else if (collect) last.set(row);
        before = own;
      }
      sum += r * r;
      if (!collect) continue;
      for (let a = 0; a < k; a++) {
        right[a]! += row[a]! * r;
        for (let b = 0; b <= a; b++) gram[a * k + b]! += row[a]! * row[b]!;
      }
    }
    for (let a = 0; a < k; a++) sum += at[a]! * at[a]!;
    return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
  }

  let weightMean = new Float64Array(64);
  const probe = new Float64Array(k);

  /** Mode of t under one moment; leaves the factor of I + J'J behind. */
  function settle(m: Moment, at: Float64Array): boolean {
    let value = pass(m, at, true);
    if (!Number.isFinite(value)) {
      at.fill(0);
      value = pass(m, at, true);
    }
    for (let it = 0; it < 50; it++) {
      for (let a = 0; a < k; a++) step[a] = right[a]! - at[a]!;
      for (let a = 0; a < k; a++) {
        for (let b = 0; b <= a; b++) {
          let s = gram[a * k + b]! + (a === b ? 1 : 0);
          for (let c = 0; c < b; c++) s -= factor[a * k + c]! * factor[b * k + c]!;
          factor[a * k + b] = a === b ? Math.sqrt(s) : s / factor[b * k + b]!;
        }
      }
      solve(step);
      let largest = 0;
      for (let a = 0; a < k; a++) largest = Math.max(largest, Math.abs(step[a]!));
      if (!(largest < Number.POSITIVE_INFINITY)) return false;
      if (largest < 1e-7) return true;
      let size = 1;
      let next = Number.POSITIVE_INFINITY;
      for (let half = 0; half < 30; half++) {
        for (let a = 0; a < k; a++) probe[a] = at[a]! + size * step[a]!;
        next = pass(m, probe, true);
        if (next <= value * (1 + 1e-12) + 1e-12) break;
        size /= 2;
      }
      if (!(next <= value * (1 + 1e-12) + 1e-12)) {
        pass(m, at, true);
        return false;
      }
      at.set(probe);
      value = next;
    }
    return false;
  }

  function solve(v: Float64Array): void {
    for (let a = 0; a < k; a++) {
      let s = v[a]!;
      for (let b = 0; b < a; b++) s -= factor[a * k + b]! * v[b]!;
      v[a] = s / factor[a * k + a]!;
    }
    for (let a = k - 1; a >= 0; a--) {
      let s = v[a]!;
      for (let b = a + 1; b < k; b++) s -= factor[b * k + a]! * v[b]!;
      v[a] = s / factor[a * k + a]!;
    }
  }

  /** Covariance of eta: L (I + J'J)^-1 L'. */
  function spreadOut(m: Moment, out: Float64Array): void {
    const column = new Float64Array(k);
    const half = new Float64Array(k * k);
    // Rows of L F^-T.
    for (let i = 0; i < k; i++) {
      for (let a = 0; a < k; a++) column[a] = a <= i ? m.l[i * k + a]! : 0;
      for (let a = 0; a < k; a++) {
        let s = column[a]!;
        for (let b = 0; b < a; b++) s -= factor[a * k + b]! * half[i * k + b]!;
        half[i * k + a] = s / factor[a * k + a]!;
      }
    }
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++) {
        let s = 0;
        for (let a = 0; a < k; a++) s += half[i * k + a]! * half[j * k + a]!;
        out[i * k + j] = s;
      }
  }

  function update(): void {
    converged = settle(base, t);
    for (let i = 0; i < k; i++) {
      let s = centre[i]!;
      for (let j = 0; j <= i; j++) s += base.l[i * k + j]! * t[j]!;
      eta[i] = s;
    }
    spreadOut(base, covariance);
    natural(eta);
    movedStale = true;
  }

  /** Modes and covariances with the variances moved; only needed for intervals. */
  function updateMoved(): void {
    if (!movedStale) return;
    for (const pair of moved) {
      for (const m of [pair.up, pair.down]) {
        m.t.set(t);
        settle(m, m.t);
        for (let i = 0; i < k; i++) {
          let s = centre[i]!;
          for (let j = 0; j <= i; j++) s += m.l[i * k + j]! * m.t[j]!;
          m.eta[i] = s;
        }
        spreadOut(m, m.covariance);
      }
    }
    natural(eta);
    movedStale = false;
  }

  const gradient = new Float64Array(k);
  const gradientAt = (x: number, at: Float64Array, sign: number): number => {
    natural(at);
    const f = mean(x, phi, d, 0);
    for (let j = 0; j < k; j++) gradient[j]! += sign * d[j]! * slope[j]!;
    return f;
  };
  const form = (c: Float64Array) => {
    let s = 0;
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++) s += gradient[i]! * c[i * k + j]! * gradient[j]!;
    return s;
  };

  function assess(
    points: readonly { readonly x: number; readonly sign: number }[],
    options: PredictionOptions,
  ): IndividualPrediction {
    const { of = "individual", what = "mean", level = 0.95 } = options;
    gradient.fill(0);
    const at = of === "population" ? centre : eta;
    let value = 0;
    for (const point of points) value += point.sign * gradientAt(point.x, at, point.sign);
    let variance: number;
    let df: number;
    if (of === "population") {
      variance = form(base.mean);
      df = Math.max(1, prior.groups - 1);
      natural(eta);
    } else {
      updateMoved();
      const own = form(covariance);
      let shift = 0;
      let wobble = 0;
      for (const { up, down } of moved) {
        let difference = 0;
        for (let j = 0; j < k; j++) difference += gradient[j]! * (up.eta[j]! - down.eta[j]!);
        shift += (difference / 2) ** 2;
        const extra = what === "reading" ? up.sigma ** 2 - down.sigma ** 2 : 0;
        wobble += ((form(up.covariance) - form(down.covariance) + extra) / 2) ** 2;
      }
      variance = own + 2 * shift;
      const whole = own + (what === "reading" ? prior.sigma ** 2 : 0);
      df = wobble > 0 ? Math.max(2, (2 * whole * whole) / wobble) : Number.POSITIVE_INFINITY;
    }
    if (what === "reading") {
      const point = points[0]!;
      let noise = spreadAt(value, prior.sigma) ** 2;
      if (prior.phi !== null && count > 0 && of === "individual") {
        const rho = prior.phi ** Math.max(0, point.x - xs[count - 1]!);
        natural(eta);
        const lastMean = mean(xs[count - 1]!, phi, d, 0);
        const ratio = spreadAt(value, 1) / spreadAt(lastMean, 1);
        value += rho * ratio * (ys[count - 1]! - lastMean);
        noise *= 1 - rho * rho;
      }
      variance += noise;
    }
    const se = Math.sqrt(Math.max(0, variance));
    const q = options.multiplier ?? studentTQuantile((1 + level) / 2, Math.min(df, 1e6));
    return { value, se, lower: value - q * se, upper: value + q * se, df };
  }

  update();
  return {
    get count() {
      return count;
    },
    eta,
    phi,
    covariance,
    get converged() {
      return converged;
    },
    observe(x, y) {
      if (count === xs.length) {
        const grow = (a: Float64Array) => {
          const b = new Float64Array(2 * a.length);
          b.set(a);
          return b;
        };
        xs = grow(xs);
        ys = grow(ys);
        weightMean = grow(weightMean);
      }
      xs[count] = x;
      ys[count] = y;
      // The spread of a reading follows the mean expected before it was taken.
      natural(eta);
      weightMean[count] = mean(x, phi, d, 0);
      count++;
      update();
    },
    reset() {
      count = 0;
      t.fill(0);
      update();
    },
    predict: (x, options = {}) => assess([{ x, sign: 1 }], options),
    predictRise: (x1, x2, options = {}) =>
      assess(
        [
          { x: x2, sign: 1 },
          { x: x1, sign: -1 },
        ],
        options,
      ),
  };
}
