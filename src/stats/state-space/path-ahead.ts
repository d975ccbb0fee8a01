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
  /**
   * "own" goes on from how the series has deviated from the mean slope; "mean" from its
   * level alone, with the slope of any other series of the group. Default "own".
   */
  readonly slope?: "own" | "mean";
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
  options: PathAheadOptions,
): readonly PathPart[] {
  const { width, factor, coefficients: slopes } = mixture;
  const sets = mixture.prior.parameters.length;
  const way = wayAhead(mixture, s, options);
  return mixture.pairs.map(({ k, c, weight }) => {
    const pair = c * sets + k;
    const solved = { factor, at: pair * width * width, slopes, from: pair * width };
    return { weight, ...pathOf(way, s, k, solved) };
  });
}

/** What the last value of a series adds by a time: its own slope, what wanders, what lasts. */
interface Reach {
  readonly own: number;
  readonly wander: number;
  readonly lasting: number;
}

/** What all pairs have in common of the way ahead. */
export interface WayAhead {
  readonly width: number;
  readonly reach: readonly Reach[];
  /** Integrals of the hats from the first value to each time. */
  readonly basis: readonly Float64Array[];
  /** Variance at each time given the mean slope, by set of parameters. */
  readonly variancesOf: (k: number) => Float64Array;
}

/** What is added by a time of something that the filter carries: level, own, wander, lasting. */
export function carriedBy(r: Reach, level: number, own: number, wander: number, lasting: number) {
  return level + r.own * own + r.wander * wander + r.lasting * lasting;
}

export function wayAhead(
  mixture: SlopeMixture,
  s: MixedSeries,
  { times, scaleAt, of, slope = "own" }: PathAheadOptions,
): WayAhead {
  const { width } = mixture;
  const { parameters, knots } = mixture.prior;
  const steps = times.map((time, i) => {
    const before = i === 0 ? s.time[s.count - 1]! : times[i - 1]!;
    return timeStep(time - before, scaleAt(0.5 * (before + time)));
  });
  const reach = times.map(() => ({ own: 0, wander: 0, lasting: 0 }));
  let keepOwn = slope === "own" ? 1 : 0;
  let keepWander = keepOwn;
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
    if (slope === "mean") {
      // Own slope and wandering of another series: nothing is known of them.
      for (const field of [1, 2, 5, 6, 8]) c[field] = 0;
      c[4] = p.spread * p.spread;
      c[7] = p.wander * p.wander;
    }
    const out = Float64Array.from(steps, (step) => {
      carryCovariance(p, step, c, 0);
      return of === "level" ? c[0]! : c[0]! + 2 * c[3]! + c[9]! + white;
    });
    variances.set(k, out);
    return out;
  };
  return { width, reach, basis, variancesOf };
}

/** Mean and standard deviation of one pair, and what the mean slope leaves open of each time. */
export interface PairPath {
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  readonly open: readonly Float64Array[];
}

export function pathOf(
  { width, reach, basis, variancesOf }: WayAhead,
  s: MixedSeries,
  k: number,
  solved: {
    readonly factor: Float64Array;
    readonly at: number;
    readonly slopes: Float64Array;
    readonly from: number;
  },
): PairPath {
  const stride = width + 1;
  const from = k * 4 * stride;
  const x = s.state!;
  const own = variancesOf(k);
  const size = reach.length;
  const mean = new Float64Array(size);
  const sd = new Float64Array(size);
  const open: Float64Array[] = [];
  for (let i = 0; i < size; i++) {
    const carried = (column: number) => {
      const at = from + column;
      return carriedBy(
        reach[i]!,
        x[at]!,
        x[at + stride]!,
        x[at + 2 * stride]!,
        x[at + 3 * stride]!,
      );
    };
    const row = new Float64Array(width);
    let m = s.first + carried(width);
    for (let j = 0; j < width; j++) {
      row[j] = basis[i]![j]! - carried(j);
      m += row[j]! * solved.slopes[solved.from + j]!;
    }
    solveLowerInPlace(solved.factor, width, row, solved.at);
    let variance = own[i]!;
    for (let j = 0; j < width; j++) variance += row[j]! * row[j]!;
    mean[i] = m;
    sd[i] = Math.sqrt(Math.max(0, variance));
    open.push(row);
  }
  return { mean, sd, open };
}
