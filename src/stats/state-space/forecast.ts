import { firstLevelVariance, type GroupParameters, persistence, slopeMemory } from "./group.js";
import type { FitSeries } from "./group-fit.js";

/**
 * A quantity that is known but for the coefficients of the group's mean:
 * `constant + row . coefficients`, with a variance of its own beside the error
 * of the coefficients.
 */
export interface LinearForecast {
  readonly constant: number;
  readonly row: Float64Array;
  readonly variance: number;
}

/** What one series says about itself at a later time. */
export interface SeriesForecast {
  /** A new value, beside the mean; the variance holds its independent noise, no known error. */
  readonly value: LinearForecast;
  /** The slope of its own, beside the slope of the mean. */
  readonly slope: LinearForecast;
}

/**
 * Forecast of one series at `time`, not before its last value read, from its
 * first `count` values (at least one): the Kalman filter of `filterGains`, run
 * over the data and every basis column at once, its state carried on to `time`.
 *
 * Source: Harvey (1989), section 3.2 (prediction step), as in `state-space-group`.
 *
 * @example forecastSeries(series, 20, 2, parameters, 21).slope.variance // 4.1e-7
 */
export function forecastSeries(
  series: FitSeries,
  count: number,
  width: number,
  parameters: GroupParameters,
  time: number,
): SeriesForecast {
  const { noiseSd, persistentShare, slopeSd, walkSd } = parameters;
  const noise = noiseSd * noiseSd * persistentShare;
  const white = noiseSd * noiseSd * (1 - persistentShare) + 1e-14;
  const slopeVariance = slopeSd * slopeSd;
  const stride = width + 1;
  const a = new Float64Array(stride);
  const b = new Float64Array(stride);
  const u = new Float64Array(stride);
  let aa = firstLevelVariance;
  let ab = 0;
  let au = 0;
  let bb = slopeVariance;
  let bu = 0;
  let uu = noise;
  const carry = (dt: number) => {
    const decayB = Math.exp(-dt / slopeMemory);
    const decayU = persistence ** dt;
    aa += 2 * dt * ab + dt * dt * bb + walkSd * walkSd * dt;
    au = decayU * (au + dt * bu);
    ab = decayB * (ab + dt * bb);
    bb = decayB * decayB * bb + slopeVariance * (1 - decayB * decayB);
    bu = decayB * decayU * bu;
    uu = decayU * decayU * uu + noise * (1 - decayU * decayU);
    for (let c = 0; c < stride; c++) {
      a[c]! += b[c]! * dt;
      b[c]! *= decayB;
      u[c]! *= decayU;
    }
  };
  for (let j = 0; j < count; j++) {
    if (j > 0) carry(series.time[j]! - series.time[j - 1]!);
    const pa = aa + au;
    const pb = ab + bu;
    const pu = au + uu;
    const f = pa + pu + series.knownVariance[j]! + white;
    aa -= (pa * pa) / f;
    ab -= (pa * pb) / f;
    au -= (pa * pu) / f;
    bb -= (pb * pb) / f;
    bu -= (pb * pu) / f;
    uu -= (pu * pu) / f;
    for (let c = 0; c < stride; c++) {
      const column = c < width ? series.basis[j * width + c]! : series.y[j]!;
      const v = (column - a[c]! - u[c]!) / f;
      a[c]! += pa * v;
      b[c]! += pb * v;
      u[c]! += pu * v;
    }
  }
  carry(time - series.time[count - 1]!);
  const minus = (x: Float64Array, y: Float64Array | null) =>
    Float64Array.from({ length: width }, (_, c) => -x[c]! - (y === null ? 0 : y[c]!));
  return {
    value: {
      constant: a[width]! + u[width]!,
      row: minus(a, u),
      variance: aa + 2 * au + uu + white,
    },
    slope: { constant: b[width]!, row: minus(b, null), variance: bb },
  };
}
