import { FourSolver, lanes } from "../linear-algebra/four-solver.js";
import {
  factorInPlace,
  logDeterminant,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../linear-algebra/small-matrix.js";
import { hatIntegralsAt, slopeWeightsAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import { SeriesRun } from "./series-run.js";
import {
  carryCovariance,
  covarianceFields,
  gainFields,
  startCovariance,
  type TimeStep,
  takeIn,
  timeStep,
  type WanderingParameters,
} from "./wandering-slope.js";

/** One belief about the slopes at the knots before the group is seen: normal, with a weight. */
export interface SlopeBelief {
  readonly weight: number;
  /** Whether it knows more of this group than what is possible at all. Default: no. */
  readonly informed?: boolean;
  /** Precision matrix, row by row, and precision times mean. */
  readonly precision: Float64Array;
  readonly pulled: Float64Array;
}

/** Everything that is believed of a group before any of its values is seen. */
export interface MixturePrior {
  readonly knots: ArrayLike<number>;
  readonly parameters: readonly WanderingParameters[];
  /** Weight of each set of parameters. */
  readonly weights: ArrayLike<number>;
  /** Rivals for the mean slope, their weights summing to 1. */
  readonly beliefs: readonly SlopeBelief[];
}

/** One set of parameters and one belief that still matter, with their share. */
interface Pair {
  readonly k: number;
  readonly c: number;
  readonly weight: number;
}

/** Where the factor of one pair stands (null where there is none), and its slopes. */
export interface SolvedPair {
  factor: Float64Array | null;
  readonly at: number;
  readonly slopes: Float64Array;
  readonly from: number;
  readonly weight: number;
}

/** A belief and its share among those of the sets looked at. */
export interface SharedBelief {
  readonly c: number;
  readonly weight: number;
}

export interface Predicted {
  /** The next value: mean and standard deviation, known variance included. */
  readonly mean: number;
  readonly sd: number;
  /** Its slope, without the steps that wander. */
  readonly slope: number;
  readonly slopeSd: number;
}

// Read in the innermost loops: as constants of this module.
const covariances = covarianceFields;
const gainsEach = gainFields;

/** Shares below this of the largest are passed over. */
const leastShare = 1e-3;

/** A set of parameters with less than this share is weighed only at every eighth settling. */
const dormantShare = 1e-7;

/**
 * A group of series with one mean curve, and what is not known of it: a grid of
 * parameters and rival normal beliefs about the mean slope, every pair weighed by
 * the marginal likelihood of all values seen. Exact for the grid: nothing is
 * optimised, nothing is drawn, and one value more is one step of each filter.
 *
 * Source: Bayesian model averaging over a grid; a mixture of an informative and a
 * vague belief as in Schmidli et al. (2014) Biometrics 70:1023-1032.
 */
export class SlopeMixture {
  readonly width: number;
  /** Slopes at the knots, averaged over what is believed. */
  readonly slopes: Float64Array;
  pairs: readonly Pair[] = [];
  /** Share of each belief and of each set of parameters, given all values. */
  readonly beliefShare: Float64Array;
  readonly parameterShare: Float64Array;
  /** Cross-products of each set, row by row: the lower triangle alone. */
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  private readonly yy: Float64Array;
  private readonly logVariance: Float64Array;
  /**
   * Of every pair: means of the slopes at the knots, and of those in `pairs` and of informed
   * beliefs the factor of their precision.
   */
  readonly factor: Float64Array;
  readonly coefficients: Float64Array;
  private readonly priorLogDeterminant: number[];
  private readonly priorSquare: number[];
  private readonly gains = new Float64Array(gainsEach);
  private readonly row: Float64Array;
  private readonly rooms: {
    readonly sums: { readonly xx: Float64Array; readonly xy: Float64Array };
    readonly solved: { readonly factor: Float64Array; readonly slopes: Float64Array }[];
  };
  private chosen: {
    readonly leastShare: number;
    readonly mostSets: number;
    readonly bySet: ReadonlyMap<number, readonly SharedBelief[]>;
  } | null = null;
  /** Counts every change: two of the same origin and version are the same. */
  version = 0;
  private fresh = false;
  private settled = 0;

  constructor(
    readonly prior: MixturePrior,
    /** Another one of the same prior, to be gone on with apart. */
    like?: SlopeMixture,
  ) {
    const sets = prior.parameters.length;
    const width = prior.knots.length;
    const size = width * width;
    const rivals = prior.beliefs.length;
    const numbers = (before: Float64Array | undefined, length: number) =>
      before?.slice() ?? new Float64Array(length);
    this.width = width;
    this.slopes = numbers(like?.slopes, width);
    this.beliefShare = numbers(like?.beliefShare, rivals);
    this.parameterShare = numbers(like?.parameterShare, sets);
    this.xx = numbers(like?.xx, sets * size);
    this.xy = numbers(like?.xy, sets * width);
    this.yy = numbers(like?.yy, sets);
    this.logVariance = numbers(like?.logVariance, sets);
    this.factor = numbers(like?.factor, rivals * sets * size);
    this.coefficients = numbers(like?.coefficients, rivals * sets * width);
    this.row = new Float64Array(width);
    this.rooms = {
      sums: { xx: new Float64Array(size), xy: new Float64Array(width) },
      solved: [],
    };
    if (like !== undefined) {
      this.priorLogDeterminant = like.priorLogDeterminant;
      this.priorSquare = like.priorSquare;
      this.pairs = like.pairs;
      this.fresh = like.fresh;
      this.settled = like.settled;
      this.version = like.version;
      return;
    }
    this.priorLogDeterminant = [];
    this.priorSquare = [];
    for (const belief of prior.beliefs) {
      const l = Float64Array.from(belief.precision);
      factorInPlace(l, width);
      this.priorLogDeterminant.push(logDeterminant(l, width));
      const b = Float64Array.from(belief.pulled);
      solveLowerInPlace(l, width, b);
      this.priorSquare.push(b.reduce((s, v) => s + v * v, 0));
    }
    this.settle();
  }

  /**
   * Takes in the next value of a series. `scale`: size of the mean slope on the way to it;
   * `anew`: what lies between says nothing, and the level starts anew.
   */
  append(
    s: MixedSeries,
    time: number,
    value: number,
    variance: number,
    scale: number,
    serves: boolean,
    anew = false,
  ): void {
    const { width } = this;
    const { parameters, knots } = this.prior;
    const stride = width + 1;
    const n = s.count;
    if (n === 0) {
      s.first = value;
      s.covariance = new Float64Array(parameters.length * covariances);
      s.state = new Float64Array(parameters.length * 4 * stride);
      parameters.forEach((p, k) => {
        startCovariance(p, s.covariance!, k * covariances);
      });
    }
    s.time.push(time);
    s.value.push(value - s.first);
    s.variance.push(variance);
    s.serves.push(serves);
    if (!serves) s.allServe = false;
    const step = timeStep(n === 0 ? 0 : time - s.time[n - 1]!, scale, anew);
    s.step.push(step);
    hatIntegralsAt(knots, time, this.row, 0);
    if (n === 0) s.origin = this.row.slice();
    for (let c = 0; c < width; c++) s.basis.push(this.row[c]! - s.origin[c]!);
    this.spanOf(s, n);
    s.count = n + 1;
    const { covariance, state } = s as { covariance: Float64Array; state: Float64Array };
    const at = n * width;
    const counts = n > 0 && serves && !anew;
    for (let k = 0; k < parameters.length; k++) {
      const p = parameters[k]!;
      if (n > 0) carryCovariance(p, step, covariance, k * covariances);
      takeIn(p, variance, covariance, k * covariances, this.gains, 0);
      const e = stepColumns(state, k * 4 * stride, stride, step, this.gains, n > 0, s, at, width);
      if (!counts) continue;
      this.addTo(k, 1, e, s.low, s.high, this.gains[5]!);
    }
    if (counts) this.fresh = false;
    this.version++;
  }

  /** What one series said by values that serve is said by others instead. */
  serveInstead(s: MixedSeries, serves: readonly boolean[]): void {
    const run = new SeriesRun(this.width);
    for (let k = 0; k < this.prior.parameters.length; k++) {
      run.beginAnew();
      run.readOn(s, this.prior.parameters[k]!);
      for (let j = 1; j < s.count; j++) {
        const difference = (serves[j] === true ? 1 : 0) - (s.serves[j] === true ? 1 : 0);
        if (difference === 0 || s.step[j]!.levelFreed > 0) continue;
        const row = run.rows.subarray(j * (this.width + 1), (j + 1) * (this.width + 1));
        this.addTo(k, difference, row, s.low, s.high, run.gains[j * gainsEach + 5]!);
      }
    }
    for (let j = 0; j < s.count; j++) s.serves[j] = serves[j] === true;
    s.allServe = s.serves.every((v) => v);
    this.fresh = false;
    this.version++;
  }

  /** Weighs every pair anew by all values taken in; free where nothing has changed. */
  settle(): void {
    if (this.fresh) return;
    this.fresh = true;
    this.version++;
    this.chosen = null;
    const { width, factor, coefficients, xx } = this;
    const { beliefs, weights } = this.prior;
    const sets = this.prior.parameters.length;
    const size = width * width;
    const solver = FourSolver.ofWidth(width);
    const logs = new Float64Array(beliefs.length * sets).fill(Number.NEGATIVE_INFINITY);
    let most = Number.NEGATIVE_INFINITY;
    const leastLog = Math.log(leastShare) - 1e-6;
    const everyone = this.settled++ % 8 === 0;
    const awake: number[] = [];
    for (let k = 0; k < sets; k++)
      if (everyone || !(this.parameterShare[k]! < dormantShare)) awake.push(k);
    for (let c = 0; c < beliefs.length; c++) {
      const { precision, pulled, weight } = beliefs[c]!;
      for (let first = 0; first < awake.length; first += lanes) {
        const some = Math.min(lanes, awake.length - first);
        for (let lane = 0; lane < lanes; lane++) {
          // Where fewer are left, the last one stands in the other lanes too.
          const k = awake[first + Math.min(lane, some - 1)]!;
          solver.put(lane, precision, xx, k * size, pulled, this.xy, k * width);
        }
        solver.solve();
        for (let lane = 0; lane < some; lane++) {
          const k = awake[first + lane]!;
          const pair = c * sets + k;
          if (!solver.isDefinite(lane)) continue;
          solver.takeSolution(lane, coefficients, pair * width);
          const deviance =
            this.logVariance[k]! +
            this.yy[k]! +
            solver.logDeterminant(lane) -
            this.priorLogDeterminant[c]! +
            this.priorSquare[c]! -
            solver.explained(lane);
          logs[pair] = Math.log(weight * weights[k]!) - 0.5 * deviance;
          most = Math.max(most, logs[pair]!);
          // Of one that is passed over already nobody asks for the factor, but where its belief is
          // informed: `levelShift` looks at those however little they are worth beside the vague.
          if (beliefs[c]!.informed === true || logs[pair]! >= most + leastLog)
            solver.takeFactor(lane, factor, pair * size);
        }
      }
    }
    let total = 0;
    const shares = logs;
    for (let i = 0; i < logs.length; i++) {
      shares[i] = Math.exp(logs[i]! - most);
      total += shares[i]!;
    }
    this.beliefShare.fill(0);
    this.parameterShare.fill(0);
    this.slopes.fill(0);
    const pairs: Pair[] = [];
    let kept = 0;
    for (let c = 0; c < beliefs.length; c++) {
      for (let k = 0; k < sets; k++) {
        const pair = c * sets + k;
        const weight = shares[pair]! / total;
        if (weight === 0) continue;
        this.beliefShare[c]! += weight;
        this.parameterShare[k]! += weight;
        for (let i = 0; i < width; i++) this.slopes[i]! += weight * coefficients[pair * width + i]!;
        if (weight * total < leastShare) continue;
        pairs.push({ k, c, weight });
        kept += weight;
      }
    }
    this.pairs = pairs.map((p) => ({ ...p, weight: p.weight / kept }));
  }

  /** What the next value of a series is expected to be at `time`; it must have one value. */
  predict(s: MixedSeries, time: number, variance: number, scale: number): Predicted {
    const { width } = this;
    const { parameters, knots } = this.prior;
    const stride = width + 1;
    const step = timeStep(time - s.time[s.count - 1]!, scale);
    const c1 = step.scale * step.dt;
    const c2 = step.scale * step.reach;
    const basis = new Float64Array(width);
    hatIntegralsAt(knots, time, basis, 0);
    for (let i = 0; i < width; i++) basis[i]! -= s.origin[i]!;
    const slopeWeights = new Float64Array(width);
    slopeWeightsAt(knots, time, slopeWeights);
    const p4 = new Float64Array(covariances);
    const row = new Float64Array(width);
    const slopeRow = new Float64Array(width);
    let mean = 0;
    let square = 0;
    let slope = 0;
    let slopeSquare = 0;
    for (const { k, c, weight } of this.pairs) {
      const p = parameters[k]!;
      for (let i = 0; i < covariances; i++) p4[i] = s.covariance![k * covariances + i]!;
      carryCovariance(p, step, p4, 0);
      const white = p.noiseSd * p.noiseSd * (1 - p.lastingShare) + 1e-12;
      let v = p4[0]! + 2 * p4[3]! + p4[9]! + white + variance;
      let sv = scale * scale * p4[4]!;
      const at = k * 4 * stride;
      const x = s.state!;
      let m = carriedLevel(x, at + width, stride, c1, c2, step.keepLasting);
      let sm = scale * step.keepOwn * x[at + stride + width]!;
      const pair = c * parameters.length + k;
      for (let i = 0; i < width; i++) {
        row[i] = basis[i]! - carriedLevel(x, at + i, stride, c1, c2, step.keepLasting);
        slopeRow[i] = slopeWeights[i]! - scale * step.keepOwn * x[at + stride + i]!;
        m += row[i]! * this.coefficients[pair * width + i]!;
        sm += slopeRow[i]! * this.coefficients[pair * width + i]!;
      }
      const f = pair * width * width;
      solveLowerInPlace(this.factor, width, row, f);
      solveLowerInPlace(this.factor, width, slopeRow, f);
      for (let i = 0; i < width; i++) {
        v += row[i]! * row[i]!;
        sv += slopeRow[i]! * slopeRow[i]!;
      }
      mean += weight * m;
      square += weight * (v + m * m);
      slope += weight * sm;
      slopeSquare += weight * (sv + sm * sm);
    }
    return {
      mean: mean + s.first,
      sd: Math.sqrt(Math.max(0, square - mean * mean)),
      slope,
      slopeSd: Math.sqrt(Math.max(0, slopeSquare - slope * slope)),
    };
  }

  /**
   * The heaviest sets of parameters, each with its beliefs and their shares (sum 1 over all);
   * pairs below `leastShare` of the largest are passed over. Worked out once a settling.
   */
  heaviest(leastShare: number, mostSets: number): ReadonlyMap<number, readonly SharedBelief[]> {
    const known = this.chosen;
    if (known !== null && known.leastShare === leastShare && known.mostSets === mostSets)
      return known.bySet;
    let largest = 0;
    for (const pair of this.pairs) largest = Math.max(largest, pair.weight);
    const heavy = this.pairs.filter((p) => p.weight >= leastShare * largest);
    heavy.sort((a, b) => b.weight - a.weight);
    const found = new Map<number, SharedBelief[]>();
    for (const { k, c, weight } of heavy) {
      const list = found.get(k);
      if (list !== undefined) list.push({ c, weight });
      else if (found.size < mostSets) found.set(k, [{ c, weight }]);
    }
    let total = 0;
    for (const list of found.values()) for (const { weight } of list) total += weight;
    const bySet = new Map(
      [...found].map(([k, list]) => [k, list.map((b) => ({ ...b, weight: b.weight / total }))]),
    );
    this.chosen = { leastShare, mostSets, bySet };
    return bySet;
  }

  /**
   * Factors and slopes of sets of parameters, each with its beliefs, with one series' own
   * values all counted, whether they serve the others or not. Where all of them do, that is
   * what was settled. In the order of the sets; good until the next call, for the rooms are
   * used again.
   */
  solvedWith(
    bySet: ReadonlyMap<number, readonly SharedBelief[]>,
    s: MixedSeries,
  ): readonly (readonly SolvedPair[])[] {
    const { width } = this;
    const size = width * width;
    const { parameters } = this.prior;
    if (s.allServe && this.fresh)
      return [...bySet].map(([k, beliefs]) =>
        beliefs.map(({ c, weight }) => {
          const pair = c * parameters.length + k;
          const { factor, coefficients: slopes } = this;
          return { factor, at: pair * size, slopes, from: pair * width, weight };
        }),
      );
    const solver = FourSolver.ofWidth(width);
    const found: SolvedPair[][] = [];
    const waiting: SolvedPair[] = [];
    const solveWaiting = () => {
      solver.solve();
      waiting.forEach((pair, lane) => {
        if (!solver.isDefinite(lane)) {
          pair.factor = null;
          return;
        }
        solver.takeFactor(lane, pair.factor!, 0);
        solver.takeSolution(lane, pair.slopes, 0);
      });
      waiting.length = 0;
    };
    let used = 0;
    for (const [k, beliefs] of bySet) {
      const { xx, xy } = this.withOwn(k, s.runOf(k, parameters[k]!, width), s);
      const own: SolvedPair[] = [];
      for (const { c, weight } of beliefs) {
        const { precision, pulled } = this.prior.beliefs[c]!;
        solver.put(waiting.length, precision, xx, 0, pulled, xy, 0);
        const pair = { ...this.roomOf(used++), at: 0, from: 0, weight };
        own.push(pair);
        waiting.push(pair);
        if (waiting.length === lanes) solveWaiting();
      }
      found.push(own);
    }
    if (waiting.length > 0) solveWaiting();
    return found;
  }

  /** Cross-products of one set with the values of a series that do not serve the others. */
  private withOwn(k: number, { rows }: SeriesRun, s: MixedSeries) {
    const { width } = this;
    const size = width * width;
    const { xx, xy } = this.rooms.sums;
    const { xx: sumsOfProducts, xy: sumsOfValues } = this;
    for (let p = 0; p < width; p++) {
      xy[p] = sumsOfValues[k * width + p]!;
      const line = p * width;
      for (let q = 0; q <= p; q++) xx[line + q] = sumsOfProducts[k * size + line + q]!;
    }
    const { low, high } = s;
    for (let j = 1; j < s.count; j++) {
      if (s.serves[j] === true || s.step[j]!.levelFreed > 0) continue;
      const at = j * (width + 1);
      const y = rows[at + width]!;
      for (let p = low; p < high; p++) {
        const x = rows[at + p]!;
        xy[p]! += x * y;
        for (let q = low; q <= p; q++) xx[p * width + q]! += x * rows[at + q]!;
      }
    }
    return this.rooms.sums;
  }

  private roomOf(pair: number) {
    const { solved } = this.rooms;
    while (solved.length <= pair)
      solved.push({
        factor: new Float64Array(this.width * this.width),
        slopes: new Float64Array(this.width),
      });
    return solved[pair]!;
  }

  /** Mean and covariance of the slopes at the knots, of one belief or over all. */
  momentsOfSlopes(only?: number): { mean: Float64Array; covariance: Float64Array } {
    const { width } = this;
    const sets = this.prior.parameters.length;
    const mean = new Float64Array(width);
    const covariance = new Float64Array(width * width);
    const pairs = only === undefined ? this.pairs : this.pairs.filter((p) => p.c === only);
    const total = pairs.reduce((sum, p) => sum + p.weight, 0);
    const unit = new Float64Array(width);
    for (const { k, c, weight } of pairs) {
      const share = weight / total;
      const pair = c * sets + k;
      const b = this.coefficients.subarray(pair * width, (pair + 1) * width);
      for (let i = 0; i < width; i++) {
        mean[i]! += share * b[i]!;
        unit.fill(0);
        unit[i] = 1;
        solveLowerInPlace(this.factor, width, unit, pair * width * width);
        solveUpperInPlace(this.factor, width, unit, pair * width * width);
        for (let j = 0; j < width; j++)
          covariance[i * width + j]! += share * (unit[j]! + b[i]! * b[j]!);
      }
    }
    for (let i = 0; i < width; i++)
      for (let j = 0; j < width; j++) covariance[i * width + j]! -= mean[i]! * mean[j]!;
    return { mean, covariance };
  }

  private addTo(
    k: number,
    sign: number,
    row: ArrayLike<number>,
    low: number,
    high: number,
    variance: number,
  ): void {
    const { width, xx, xy } = this;
    const y = row[width]!;
    this.yy[k]! += sign * y * y;
    this.logVariance[k]! += sign * Math.log(variance);
    const at = k * width * width;
    for (let p = low; p < high; p++) {
      const x = sign * row[p]!;
      if (x === 0) continue;
      xy[k * width + p]! += x * y;
      const line = at + p * width;
      for (let q = low; q <= p; q++) xx[line + q]! += x * row[q]!;
    }
  }

  /** Columns of the basis that have moved since the first value. */
  private spanOf(s: MixedSeries, n: number): void {
    const at = n * this.width;
    for (let c = 0; c < this.width; c++) {
      if (s.basis[at + c] === 0) continue;
      if (s.high === 0) s.low = c;
      s.low = Math.min(s.low, c);
      s.high = Math.max(s.high, c + 1);
    }
  }
}

/** Level and lasting error of one column, carried over a step. */
function carriedLevel(
  x: Float64Array,
  i: number,
  stride: number,
  c1: number,
  c2: number,
  keepLasting: number,
): number {
  return x[i]! + c1 * x[i + stride]! + c2 * x[i + 2 * stride]! + keepLasting * x[i + 3 * stride]!;
}

const rowRoom = { row: new Float64Array(0) };

/** One step of the filter for the columns of the basis and the values; answers the innovations. */
function stepColumns(
  x: Float64Array,
  at: number,
  stride: number,
  step: TimeStep,
  gains: Float64Array,
  carry: boolean,
  s: MixedSeries,
  row: number,
  width: number,
): Float64Array {
  if (rowRoom.row.length < stride) rowRoom.row = new Float64Array(stride);
  const out = rowRoom.row;
  const c1 = step.scale * step.dt;
  const c2 = step.scale * step.reach;
  const ka = gains[0]!;
  const kb = gains[1]!;
  const kw = gains[2]!;
  const ku = gains[3]!;
  const root = gains[4]!;
  const a = at;
  const b = at + stride;
  const w = b + stride;
  const u = w + stride;
  for (let c = s.low; c <= s.high; c++) {
    const i = c < s.high ? c : width;
    let xa = x[a + i]!;
    let xb = x[b + i]!;
    let xw = x[w + i]!;
    let xu = x[u + i]!;
    if (carry) {
      xa += c1 * xb + c2 * xw;
      xb *= step.keepOwn;
      xw *= step.keepWander;
      xu *= step.keepLasting;
    }
    const v = (i < width ? s.basis[row + i]! : s.value[s.count - 1]!) - xa - xu;
    x[a + i] = xa + ka * v;
    x[b + i] = xb + kb * v;
    x[w + i] = xw + kw * v;
    x[u + i] = xu + ku * v;
    out[i] = v * root;
  }
  return out;
}
