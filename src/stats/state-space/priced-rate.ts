/**
 * A level read with error while it moves at a rate that wanders, and a flow that pays
 * for an upkeep and for that rate. Between the readings j-1 and j, dt apart:
 *
 *   level_j   = level_{j-1} + dt x rate_j
 *   rate_j    = size_j x (own + mean of wander over the step)
 *   flow_j    = base_j x (upkeep + mood_j) + price x rate_j
 *   reading_j = level_j + size_j x (lasting_j + error_j)
 *
 * own drifts slowly, wander falls back towards 0 with a memory of 4, mood and lasting
 * are autoregressive across one unit of time (0.6 and 0.55). `size` and `base` are known.
 */
export interface PricedCourse {
  readonly time: Float64Array;
  readonly reading: Float64Array;
  /** Flow per unit of time over the step that ends with each reading; the first is not read. */
  readonly flow: Float64Array;
  readonly size: Float64Array;
  readonly base: Float64Array;
}

export interface PricedParameters {
  readonly price: number;
  /** Standard deviation of a reading's error as a share of size, and the share of its variance that lasts. */
  readonly noiseSd: number;
  readonly lastingShare: number;
  /** Standard deviation of the relative rate that wanders. */
  readonly wanderSd: number;
  /** Standard deviation of mood, flow per base. */
  readonly moodSd: number;
}

/** Beliefs before anything is seen, wide: mean and standard deviation. */
export interface PricedStart {
  readonly own: readonly [number, number];
  readonly upkeep: readonly [number, number];
  /** Standard deviation of the step of `own` across one unit of time. */
  readonly drift: number;
}

const memory = 4;

/** What is kept of wander, and of what lasts of an error, across one unit of time. */
export const wanderKept = Math.exp(-1 / memory);
export const lastingKept = 0.55;
const moodKept = 0.6;

/**
 * A reading further off than this many standard errors counts as that far (Huber 1964).
 * Flows are taken as they are: one far off tells of a rate far off.
 */
const cut = 5;

const states = 7;
const level = 0;
const own = 1;
const wander = 2;
const lasting = 3;
const mood = 4;
const upkeep = 5;
const rate = 6;

/**
 * Log-likelihood of one course, the first level free; its rooms are used again.
 * Kalman filter in innovations form, Harvey (1989) chapter 3; the mean of an
 * Ornstein-Uhlenbeck process over a step by its exact moments.
 */
export class PricedRun {
  /** Covariance, full, row by row. */
  private readonly p = new Float64Array(states * states);
  private readonly x = new Float64Array(states);
  private readonly k = new Float64Array(states);
  /** Upkeep after the last course, and its variance. */
  upkeep: readonly [number, number] = [0, 0];

  logLikelihood(c: PricedCourse, v: PricedParameters, start: PricedStart): number {
    const { p, x } = this;
    p.fill(0);
    x.fill(0);
    const lasts = v.noiseSd ** 2 * v.lastingShare;
    const white = v.noiseSd ** 2 - lasts + 1e-12;
    const first = c.size[0]!;
    x[level] = c.reading[0]!;
    x[own] = start.own[0];
    x[upkeep] = start.upkeep[0];
    // The first reading sets the level: level = reading - size x (lasting + error).
    p[level * states + level] = first * first * (lasts + white);
    p[level * states + lasting] = -first * lasts;
    p[lasting * states + level] = -first * lasts;
    p[own * states + own] = start.own[1] ** 2;
    p[wander * states + wander] = v.wanderSd ** 2;
    p[lasting * states + lasting] = lasts;
    p[mood * states + mood] = v.moodSd ** 2;
    p[upkeep * states + upkeep] = start.upkeep[1] ** 2;
    let sum = 0;
    for (let j = 1; j < c.time.length; j++) {
      const size = c.size[j]!;
      const base = c.base[j]!;
      this.carry(c.time[j]! - c.time[j - 1]!, size, v, start.drift, lasts);
      // A flow is known to a thousandth.
      const flow = c.flow[j]!;
      sum += this.see(
        upkeep,
        base,
        rate,
        v.price,
        mood,
        base,
        flow,
        1e-6 * flow * flow + 1e-12,
        Infinity,
      );
      sum += this.see(level, 1, lasting, size, level, 0, c.reading[j]!, size * size * white, cut);
    }
    this.upkeep = [x[upkeep]!, p[upkeep * states + upkeep]!];
    return sum;
  }

  private carry(dt: number, size: number, v: PricedParameters, drift: number, lasts: number): void {
    const { p, x } = this;
    const keep = Math.exp(-dt / memory);
    const lost = 1 - keep;
    const mean = (memory * lost) / dt;
    const variance = v.wanderSd ** 2;
    // Variance of the mean of wander over the step beside what its start says, and with its end.
    const spread = 2 * memory * dt - memory ** 2 * (3 - 4 * keep + keep ** 2);
    const ofMean = (variance * Math.max(0, spread)) / (dt * dt);
    const withEnd = (size * variance * memory * lost * lost) / dt;
    // The rate is new: a combination of own and wander.
    for (let i = 0; i < rate; i++) {
      const r = size * (p[i * states + own]! + mean * p[i * states + wander]!);
      p[i * states + rate] = r;
      p[rate * states + i] = r;
    }
    p[rate * states + rate] =
      size * (p[rate * states + own]! + mean * p[rate * states + wander]!) + size * size * ofMean;
    x[rate] = size * (x[own]! + mean * x[wander]!);
    p[level * states + level]! +=
      dt * (2 * p[level * states + rate]! + dt * p[rate * states + rate]!);
    for (let i = 1; i < states; i++) {
      const r = p[i * states + level]! + dt * p[i * states + rate]!;
      p[i * states + level] = r;
      p[level * states + i] = r;
    }
    x[level]! += dt * x[rate]!;
    this.forget(wander, keep, variance);
    p[wander * states + rate]! += withEnd;
    p[rate * states + wander]! += withEnd;
    p[wander * states + level]! += dt * withEnd;
    p[level * states + wander]! += dt * withEnd;
    this.forget(lasting, lastingKept ** dt, lasts);
    this.forget(mood, moodKept ** dt, v.moodSd ** 2);
    p[own * states + own]! += drift * drift * dt;
  }

  /** One state falls back towards 0 and keeps its variance. */
  private forget(state: number, kept: number, variance: number): void {
    const { p, x } = this;
    for (let i = 0; i < states; i++) {
      p[i * states + state]! *= kept;
      p[state * states + i]! *= kept;
    }
    p[state * states + state]! += variance * (1 - kept * kept);
    x[state]! *= kept;
  }

  /** Takes in a value that is a sum of three states, each with its factor, and an error. */
  private see(
    a: number,
    fa: number,
    b: number,
    fb: number,
    c: number,
    fc: number,
    value: number,
    variance: number,
    farthest: number,
  ): number {
    const { p, x, k } = this;
    for (let i = 0; i < states; i++) {
      const row = i * states;
      k[i] = fa * p[row + a]! + fb * p[row + b]! + fc * p[row + c]!;
    }
    const f = fa * k[a]! + fb * k[b]! + fc * k[c]! + variance;
    const sd = Math.sqrt(f);
    const z = (value - fa * x[a]! - fb * x[b]! - fc * x[c]!) / sd;
    const tamed = Math.max(-farthest, Math.min(farthest, z));
    const miss = tamed * sd;
    for (let i = 0; i < states; i++) {
      const g = k[i]! / f;
      x[i]! += g * miss;
      for (let j = i; j < states; j++) {
        const q = p[i * states + j]! - g * k[j]!;
        p[i * states + j] = q;
        p[j * states + i] = q;
      }
    }
    return -0.5 * Math.log(2 * Math.PI * f) - tamed * (z - tamed / 2);
  }
}
