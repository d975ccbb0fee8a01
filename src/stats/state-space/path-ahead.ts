import { solveLowerInPlace } from "../linear-algebra/small-matrix.js";
import { hatIntegralsAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import type { SlopeMixture } from "./slope-mixture.js";
import { carryCovariance, covarianceFields, timeStep } from "./wandering-slope.js";

/** The path ahead as one pair of parameters and belief sees it, with that pair's share. */
export interface PathPart {
  readonly weight: number;
  /** Mean and standard deviation at each time. */
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

export interface PathAheadOptions {
  /** Rising, none before the last value of the series. */
  readonly times: readonly number[];
  /** Size of the mean slope at a time, as for the values themselves. */
  readonly scaleAt: (time: number) => number;
  /**
   * "level" is what lies behind the values, without what lasts and without error;
   * "value" a value read at that time, without a known variance of its own.
   */
  readonly of: "level" | "value";
}

/**
 * The way of one series from its last value on: at each time a mixture of normals, one
 * for every pair that the mixture keeps. Between two times the steps are those of the
 * filter, so times lie close (a unit apart) however far ahead the last one is.
 *
 * Source: prediction by the Kalman filter run on without values, Harvey (1989)
 * Forecasting, Structural Time Series Models and the Kalman Filter, section 3.5.
 */
export function pathAhead(
  mixture: SlopeMixture,
  s: MixedSeries,
  { times, scaleAt, of }: PathAheadOptions,
): readonly PathPart[] {
  const { width, factor, coefficients } = mixture;
  const { parameters, knots } = mixture.prior;
  const stride = width + 1;
  const size = times.length;
  const x = s.state!;
  const steps = times.map((time, i) => {
    const before = i === 0 ? s.time[s.count - 1]! : times[i - 1]!;
    return timeStep(time - before, scaleAt(0.5 * (before + time)));
  });
  // What own, wander and lasting of the last value add by each time: the same for all sets.
  const reach = times.map(() => ({ own: 0, wander: 0, lasting: 0 }));
  let keepOwn = 1;
  let keepWander = 1;
  let keepLasting = of === "value" ? 1 : 0;
  steps.forEach((step, i) => {
    const before = reach[i - 1];
    keepLasting *= step.keepLasting;
    reach[i] = {
      own: (before?.own ?? 0) + step.scale * step.dt * keepOwn,
      wander: (before?.wander ?? 0) + step.scale * step.reach * keepWander,
      lasting: keepLasting,
    };
    keepOwn *= step.keepOwn;
    keepWander *= step.keepWander;
  });
  const basis = times.map((time) => {
    const row = new Float64Array(width);
    hatIntegralsAt(knots, time, row, 0);
    return row.map((v, c) => v - s.origin[c]!);
  });
  const variances = new Map<number, Float64Array>();
  const variancesOf = (k: number): Float64Array => {
    const known = variances.get(k);
    if (known !== undefined) return known;
    const p = parameters[k]!;
    const white = p.noiseSd * p.noiseSd * (1 - p.lastingShare);
    const at = k * covarianceFields;
    const c = s.covariance!.slice(at, at + covarianceFields);
    const out = Float64Array.from(steps, (step) => {
      carryCovariance(p, step, c, 0);
      return of === "level" ? c[0]! : c[0]! + 2 * c[3]! + c[9]! + white;
    });
    variances.set(k, out);
    return out;
  };
  const row = new Float64Array(width);
  return mixture.pairs.map(({ k, c, weight }) => {
    const pair = c * parameters.length + k;
    const from = k * 4 * stride;
    const own = variancesOf(k);
    const mean = new Float64Array(size);
    const sd = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      const r = reach[i]!;
      const carried = (column: number) =>
        x[from + column]! +
        r.own * x[from + stride + column]! +
        r.wander * x[from + 2 * stride + column]! +
        r.lasting * x[from + 3 * stride + column]!;
      let m = s.first + carried(width);
      for (let j = 0; j < width; j++) {
        row[j] = basis[i]![j]! - carried(j);
        m += row[j]! * coefficients[pair * width + j]!;
      }
      solveLowerInPlace(factor, width, row, pair * width * width);
      let variance = own[i]!;
      for (let j = 0; j < width; j++) variance += row[j]! * row[j]!;
      mean[i] = m;
      sd[i] = Math.sqrt(Math.max(0, variance));
    }
    return { weight, mean, sd };
  });
}
