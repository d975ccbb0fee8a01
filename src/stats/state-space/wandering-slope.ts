/**
 * A series that follows a mean curve and deviates from it in three ways. In
 * state-space form:
 *
 *   y_j = mean(t_j) + level + lasting_j + error_j
 *   level moves by scale x (own + wander) dt
 *   own    falls back towards 0 with time constant `ownMemory`, standard deviation `spread`
 *   wander falls back towards 0 with time constant `wanderMemory`, standard deviation `wander`
 *   lasting is AR(1) across one unit of time with `lastingCorrelation`; it has the share
 *          `lastingShare` of the variance noiseSd^2, the rest is independent
 *   error_j is independent with a known variance
 *
 * `scale` is the size of the mean slope, so that spread and wander are shares of it.
 * The first level is free (a diffuse start); values are taken less the first one.
 * Everything is linear in y: the data and every column of the mean's basis pass
 * through the same gains.
 *
 * Source: Kalman filter in innovations form, Harvey (1989) Forecasting, Structural
 * Time Series Models and the Kalman Filter, chapter 3; the integral of an
 * Ornstein-Uhlenbeck process over a step by its exact moments.
 */
export interface WanderingParameters {
  readonly noiseSd: number;
  readonly lastingShare: number;
  readonly wander: number;
  readonly spread: number;
}

export const wanderMemory = 4;
export const ownMemory = 60;
export const lastingCorrelation = 0.55;

/** Variance of the first level: wide enough to leave it free. */
export const firstLevelVariance = 4;

/** Covariance of (level, own, wander, lasting), upper triangle, row by row. */
export const covarianceFields = 10;

/** What a step over time does, without the parameters: worked out once for all of them. */
export interface TimeStep {
  readonly dt: number;
  readonly scale: number;
  readonly keepOwn: number;
  readonly keepWander: number;
  readonly keepLasting: number;
  /** Integral of what remains of wander, and its moments over the step for unit variance. */
  readonly reach: number;
  readonly levelVariance: number;
  readonly levelWander: number;
  /** Variance by which the level moves beside all this: wide where it starts anew. */
  readonly levelFreed: number;
}

/** A step of `dt` with this size of the mean slope; `anew` where the level starts anew after it. */
export function timeStep(dt: number, scale: number, anew = false): TimeStep {
  const keepWander = Math.exp(-dt / wanderMemory);
  const lost = 1 - keepWander;
  return {
    dt,
    scale,
    keepOwn: Math.exp(-dt / ownMemory),
    keepWander,
    keepLasting: lastingCorrelation ** dt,
    reach: wanderMemory * lost,
    levelVariance: Math.max(
      0,
      2 * wanderMemory * dt - wanderMemory ** 2 * (3 - 4 * keepWander + keepWander ** 2),
    ),
    levelWander: wanderMemory * lost * lost,
    levelFreed: anew ? firstLevelVariance : 0,
  };
}

/** The covariance before the first value. */
export function startCovariance(p: WanderingParameters, out: Float64Array, at: number): void {
  out.fill(0, at, at + covarianceFields);
  out[at] = firstLevelVariance;
  out[at + 4] = p.spread * p.spread;
  out[at + 7] = p.wander * p.wander;
  out[at + 9] = p.noiseSd * p.noiseSd * p.lastingShare;
}

/** Carries the covariance over a step, in place. */
export function carryCovariance(
  p: WanderingParameters,
  s: TimeStep,
  c: Float64Array,
  at: number,
): void {
  const { keepOwn, keepWander, keepLasting } = s;
  const ca = s.scale * s.dt;
  const cg = s.scale * s.reach;
  const ab = c[at + 1]!;
  const aw = c[at + 2]!;
  const au = c[at + 3]!;
  const bb = c[at + 4]!;
  const bw = c[at + 5]!;
  const bu = c[at + 6]!;
  const ww = c[at + 7]!;
  const wu = c[at + 8]!;
  const spread = p.spread * p.spread;
  const wander = p.wander * p.wander;
  const lasting = p.noiseSd * p.noiseSd * p.lastingShare;
  c[at]! +=
    s.levelFreed +
    2 * ca * ab +
    2 * cg * aw +
    ca * ca * bb +
    2 * ca * cg * bw +
    cg * cg * ww +
    s.scale * s.scale * wander * s.levelVariance;
  c[at + 1] = keepOwn * (ab + ca * bb + cg * bw);
  c[at + 2] = keepWander * (aw + ca * bw + cg * ww) + s.scale * wander * s.levelWander;
  c[at + 3] = keepLasting * (au + ca * bu + cg * wu);
  c[at + 4] = keepOwn * keepOwn * bb + spread * (1 - keepOwn * keepOwn);
  c[at + 5] = keepOwn * keepWander * bw;
  c[at + 6] = keepOwn * keepLasting * bu;
  c[at + 7] = keepWander * keepWander * ww + wander * (1 - keepWander * keepWander);
  c[at + 8] = keepWander * keepLasting * wu;
  c[at + 9] = keepLasting * keepLasting * c[at + 9]! + lasting * (1 - keepLasting * keepLasting);
}

/** Fields of {@link takeIn}: four gains, 1/sd and the variance of the innovation. */
export const gainFields = 6;

/** Takes in one value: writes the gains, and the covariance after it, in place. */
export function takeIn(
  p: WanderingParameters,
  knownVariance: number,
  c: Float64Array,
  at: number,
  gains: Float64Array,
  to: number,
): void {
  const white = p.noiseSd * p.noiseSd * (1 - p.lastingShare) + 1e-12;
  const pa = c[at]! + c[at + 3]!;
  const pb = c[at + 1]! + c[at + 6]!;
  const pw = c[at + 2]! + c[at + 8]!;
  const pu = c[at + 3]! + c[at + 9]!;
  const f = pa + pu + knownVariance + white;
  const ka = pa / f;
  const kb = pb / f;
  const kw = pw / f;
  const ku = pu / f;
  c[at]! -= ka * pa;
  c[at + 1]! -= ka * pb;
  c[at + 2]! -= ka * pw;
  c[at + 3]! -= ka * pu;
  c[at + 4]! -= kb * pb;
  c[at + 5]! -= kb * pw;
  c[at + 6]! -= kb * pu;
  c[at + 7]! -= kw * pw;
  c[at + 8]! -= kw * pu;
  c[at + 9]! -= ku * pu;
  gains[to] = ka;
  gains[to + 1] = kb;
  gains[to + 2] = kw;
  gains[to + 3] = ku;
  gains[to + 4] = 1 / Math.sqrt(f);
  gains[to + 5] = f;
}
