/**
 * Several series that follow one smooth mean curve and deviate from it by a
 * level and a slope of their own. In state-space form, for one series:
 *
 *   y_j = mean(t_j) + level_j + noise_j + error_j
 *   level moves by slope x dt, and by a random step of variance walkSd^2 dt
 *   slope falls back towards 0 with time constant `slopeMemory`, standard deviation slopeSd
 *   noise has standard deviation noiseSd; a share `persistentShare` of its variance
 *   is AR(1) with correlation 0.5 across one unit of time, the rest independent
 *   error_j is independent with the known variance `knownVariance[j]`
 *
 * The first level is left free (a diffuse start). Everything here is linear in
 * y, so any column (the data, a basis of the mean, a suspected change) is
 * filtered by the same gains, and generalised least squares needs only sums of
 * products of the filtered columns.
 *
 * Source: Kalman filter in innovations form and its use for generalised least
 * squares, e.g. Harvey (1989) Forecasting, Structural Time Series Models and the
 * Kalman Filter, chapter 3.
 */
export interface GroupParameters {
  readonly noiseSd: number;
  /** Share of the noise variance that lasts from one value to the next, 0 to 1. */
  readonly persistentShare: number;
  readonly slopeSd: number;
  /** Standard deviation of the random step of the level across one unit of time. */
  readonly walkSd: number;
}

/** One series: times must not fall; all arrays of equal length. */
export interface GroupSeries {
  readonly time: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** Known variance of the independent error of each value (0 where all is unknown). */
  readonly knownVariance: ArrayLike<number>;
}

/** Time constant with which an own slope is forgotten. */
export const slopeMemory = 60;

/** Correlation across one unit of time of the noise that lasts. */
export const persistence = 0.5;

/** Variance of the first level: wide enough to leave it free. */
export const firstLevelVariance = 4;

/** The gains of one series: they depend on times and parameters, never on the values. */
export interface FilterGains {
  readonly count: number;
  /** Per value: dt, slope decay, noise decay, three gains, 1/sd of the innovation. */
  readonly table: Float64Array;
  /** Sum of log variances of the innovations, the first (diffuse) one left out. */
  readonly logVariance: number;
}

export const gainFields = 7;

/**
 * Runs the variance part of the Kalman filter over the first `count` values.
 *
 * @example filterGains(series, 20, { noiseSd: 0.015, persistentShare: 0, slopeSd: 0.001, walkSd: 0 }).count // 20
 */
export function filterGains(
  series: GroupSeries,
  count: number,
  parameters: GroupParameters,
  reuse?: Float64Array,
): FilterGains {
  const { noiseSd, persistentShare, slopeSd, walkSd } = parameters;
  const needed = count * gainFields;
  const table = reuse !== undefined && reuse.length >= needed ? reuse : new Float64Array(needed);
  const noiseVariance = noiseSd * noiseSd * persistentShare;
  const whiteVariance = noiseSd * noiseSd * (1 - persistentShare) + 1e-14;
  const slopeVariance = slopeSd * slopeSd;
  const walk = walkSd * walkSd;
  const logCorrelation = Math.log(persistence);
  // Covariance of (level, slope, noise), upper triangle.
  let aa = firstLevelVariance;
  let ab = 0;
  let au = 0;
  let bb = slopeVariance;
  let bu = 0;
  let uu = noiseVariance;
  let logVariance = 0;
  let before = count > 0 ? series.time[0]! : 0;
  let lastDt = -1;
  let slopeDecay = 1;
  let noiseDecay = 1;
  for (let j = 0; j < count; j++) {
    const dt = series.time[j]! - before;
    before = series.time[j]!;
    if (j > 0) {
      if (dt !== lastDt) {
        slopeDecay = Math.exp(-dt / slopeMemory);
        noiseDecay = Math.exp(logCorrelation * dt);
        lastDt = dt;
      }
      aa += 2 * dt * ab + dt * dt * bb + walk * dt;
      au = noiseDecay * (au + dt * bu);
      ab = slopeDecay * (ab + dt * bb);
      bb = slopeDecay * slopeDecay * bb + slopeVariance * (1 - slopeDecay * slopeDecay);
      bu = slopeDecay * noiseDecay * bu;
      uu = noiseDecay * noiseDecay * uu + noiseVariance * (1 - noiseDecay * noiseDecay);
    }
    const pa = aa + au;
    const pb = ab + bu;
    const pu = au + uu;
    const f = pa + pu + series.knownVariance[j]! + whiteVariance;
    const ka = pa / f;
    const kb = pb / f;
    const ku = pu / f;
    aa -= ka * pa;
    ab -= ka * pb;
    au -= ka * pu;
    bb -= kb * pb;
    bu -= kb * pu;
    uu -= ku * pu;
    const at = j * gainFields;
    table[at] = j > 0 ? dt : 0;
    table[at + 1] = slopeDecay;
    table[at + 2] = noiseDecay;
    table[at + 3] = ka;
    table[at + 4] = kb;
    table[at + 5] = ku;
    table[at + 6] = 1 / Math.sqrt(f);
    if (j > 0) logVariance += Math.log(f);
  }
  return { count, table, logVariance };
}

/**
 * Filters one column with gains already computed: standardised innovations from
 * value `from` on, written to `out[j * stride + offset]`. The column is taken to
 * be zero before `from`.
 */
export function filterColumn(
  gains: FilterGains,
  column: ArrayLike<number>,
  from: number,
  out: Float64Array,
  stride = 1,
  offset = 0,
): void {
  const { count, table } = gains;
  let a = 0;
  let b = 0;
  let u = 0;
  for (let j = from; j < count; j++) {
    const at = j * gainFields;
    if (j > from) {
      a += b * table[at]!;
      b *= table[at + 1]!;
      u *= table[at + 2]!;
    }
    const v = column[j]! - a - u;
    a += table[at + 3]! * v;
    b += table[at + 4]! * v;
    u += table[at + 5]! * v;
    out[j * stride + offset] = v * table[at + 6]!;
  }
}
