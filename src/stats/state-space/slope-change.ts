import { slopeAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import type { SeriesRun } from "./series-run.js";
import type { SlopeMixture, SolvedPair } from "./slope-mixture.js";
import { gainFields } from "./wandering-slope.js";

export interface ChangeSettings {
  /** Changes are looked for up to this long before the newest value. */
  readonly lookBack: number;
  /** Shares of the mean slope that may be missing, with their weights (sum 1). */
  readonly missing: readonly { readonly share: number; readonly weight: number }[];
  /** Slope taken where the mean slope is less, so that a change stays visible. */
  readonly leastSlope: number;
  /** Pairs of parameters and beliefs below this share of the largest are passed over. Default 0.01. */
  readonly leastShare?: number;
}

export interface SlopeChange {
  /**
   * Log of the Bayes factor of a change of slope within the look-back, all moments
   * equally likely before, against none.
   */
  readonly evidence: number;
  /** Index of the value after which the change most likely began. */
  readonly index: number;
  /** Share of the slope that is missing since then, and its standard error. */
  readonly missing: number;
  readonly se: number;
  /** Indices that leave 5 % of the probability outside on either side. */
  readonly earliest: number;
  readonly latest: number;
}

/** At most so many sets of parameters are looked at, the heaviest first. */
export const mostSets = 20;
const gainsEach = gainFields;

/**
 * Whether the slope of one series fell short of the mean at some moment of late:
 * the Bayes factor, averaged over the moment, the size of the change and everything
 * that is believed of the group. For one moment, one size f and one set of
 * parameters the log likelihood ratio is f n - f^2 q / 2 with n and q from
 * generalised least squares, so that sizes cost nothing.
 *
 * Averaged over all that is unknown, the expectation of the Bayes factor without a
 * change is 1 whatever the parameters are; a threshold therefore needs no allowance
 * for the size of the group or for how restless it is.
 *
 * Source: Shiryaev (1963) and Roberts (1966) for the average over moments;
 * conditional inference for n and q as in `SlopeMixture`.
 *
 * @example
 * // 20 days at 0.02 a day, then 10 days at nothing, a group believed to rise by 0.02
 * const belief = { weight: 1, precision: Float64Array.of(1e6), pulled: Float64Array.of(2e4) };
 * const parameters = [{ noiseSd: 0.01, lastingShare: 0.3, wander: 0.1, spread: 0.1 }];
 * const group = new SlopeMixture({ knots: [0], parameters, weights: [1], beliefs: [belief] });
 * const series = new MixedSeries();
 * for (let day = 0; day < 30; day++) group.append(series, day, 0.02 * Math.min(day, 20), 1e-5, 0.02, true);
 * group.settle();
 * const missing = [{ share: 0.5, weight: 0.5 }, { share: 1, weight: 0.5 }];
 * slopeChange(group, series, { lookBack: 14, missing, leastSlope: 0.001 }).index // 20
 */
export function slopeChange(
  group: SlopeMixture,
  s: MixedSeries,
  settings: ChangeSettings,
): SlopeChange | null {
  const { width } = group;
  const { parameters } = group.prior;
  const stride = width + 1;
  const n = s.count;
  if (n < 2) return null;
  const newest = s.time[n - 1]!;
  const { from, lost, moments } = momentsOf(group, s, settings);
  const starts = n - 1 - from;
  const factorOf = new Float64Array(starts);
  const missingOf = new Float64Array(starts);
  const precisionOf = new Float64Array(starts);
  const bySet = group.heaviest(settings.leastShare ?? 0.01, mostSets);
  const steps = stepTable(s, from);
  const room = roomFor(moments.length, width);
  const { num, square } = room;
  const { missing } = settings;
  const leastTold = leastExponentTold(missing);
  for (const k of s.runs.keys()) if (!bySet.has(k)) s.runs.delete(k);
  const solved = group.solvedWith(bySet, s);
  for (const [set, k] of [...bySet.keys()].entries()) {
    const run = s.runOf(k, parameters[k]!, width);
    respond(room, moments, s, { run, steps, lost, from, stride });
    for (const rival of solved[set]!) {
      if (rival.factor === null) continue;
      scoreOf(room, moments.length, s.low, s.high, width, rival);
      for (let m = 0; m < moments.length; m++) {
        const i = moments[m]! - from;
        const q = square[m]!;
        const ratio = likelihoodRatio(missing, num[m]!, q, leastTold);
        factorOf[i]! += rival.weight * ratio;
        missingOf[i]! += rival.weight * ratio * (num[m]! / q);
        precisionOf[i]! += rival.weight * ratio * q;
      }
    }
  }
  let sum = 0;
  let best = 0;
  const mass = new Float64Array(starts);
  for (let m = 0; m < moments.length; m++) {
    // Moments from this value to the next one looked at are one, with its length as weight.
    const i = moments[m]! - from;
    const length = (m === 0 ? newest : s.time[moments[m - 1]!]!) - s.time[moments[m]!]!;
    mass[i] = (length / settings.lookBack) * factorOf[i]!;
    sum += mass[i]!;
    if (mass[i]! > mass[best]!) best = i;
  }
  if (!(sum > 0)) return null;
  const [earliest, latest] = middleNine(mass, sum);
  return {
    evidence: Math.log(sum),
    index: from + best,
    missing: missingOf[best]! / factorOf[best]!,
    se: Math.sqrt(factorOf[best]! / precisionOf[best]!),
    earliest: from + earliest,
    latest: from + latest,
  };
}

/** Where a change is looked for. */
export interface ChangeMoments {
  /** Place of the first value looked at. */
  readonly from: number;
  /** Lost by each value since that one, were the whole mean slope missing. */
  readonly lost: Float64Array;
  /** Places of the values after which it may have begun, the newest first. */
  readonly moments: readonly number[];
}

export function momentsOf(
  group: SlopeMixture,
  s: MixedSeries,
  settings: ChangeSettings,
): ChangeMoments {
  const n = s.count;
  const newest = s.time[n - 1]!;
  let from = n - 2;
  while (from > 0 && newest - s.time[from - 1]! <= settings.lookBack) from--;
  const lost = new Float64Array(n);
  for (let j = from + 1; j < n; j++) {
    const dt = s.time[j]! - s.time[j - 1]!;
    const middle = 0.5 * (s.time[j]! + s.time[j - 1]!);
    const slope = slopeAt(group.prior.knots, group.slopes, middle);
    lost[j] = lost[j - 1]! - dt * Math.max(settings.leastSlope, slope);
  }
  const moments: number[] = [];
  for (let start = n - 2; start >= from; start--) {
    const back = newest - s.time[start]!;
    // Long ago two moments next to each other can hardly be told apart.
    if (back <= settings.lookBack / 3 || (n - start) % 2 === 0) moments.push(start);
  }
  return { from, lost, moments };
}

/** Likelihood ratio of a change against none, averaged over its size. */
function likelihoodRatio(
  missing: ChangeSettings["missing"],
  num: number,
  q: number,
  leastTold: number,
): number {
  let ratio = 0;
  let least = Number.NEGATIVE_INFINITY;
  for (let f = 0; f < missing.length; f++) {
    const { share, weight } = missing[f]!;
    const exponent = Math.min(300, share * num - 0.5 * share * share * q);
    if (exponent < least) continue;
    ratio += weight * Math.exp(exponent);
    if (f === 0) least = exponent + leastTold;
  }
  return ratio;
}

/**
 * How far below the first size's exponent another one adds less than half of the last bit,
 * so that leaving it out changes nothing; the exponential is half of the work.
 */
function leastExponentTold(missing: ChangeSettings["missing"]): number {
  const first = missing[0]?.weight ?? 0;
  const most = Math.max(...missing.map(({ weight }) => weight));
  return Math.log(first / most) - 54 * Math.LN2 - 1;
}

/** What is worked out for all moments at once, moment next to moment; used again. */
interface Room {
  readonly moments: number;
  readonly width: number;
  /** Level, own gain, wandering gain and lasting error of the change, as the filter sees it. */
  readonly level: Float64Array;
  readonly own: Float64Array;
  readonly wander: Float64Array;
  readonly lasting: Float64Array;
  readonly innovation: Float64Array;
  /** Its products with itself, with the values and with each column of the basis. */
  readonly dd: Float64Array;
  readonly dy: Float64Array;
  readonly dx: Float64Array;
  readonly solved: Float64Array;
  /** Score and information of the share that is missing. */
  readonly num: Float64Array;
  readonly square: Float64Array;
}

let kept: Room | null = null;

export function roomFor(moments: number, width: number): Room {
  if (kept !== null && kept.moments >= moments && kept.width >= width) return kept;
  const m = Math.max(moments, kept?.moments ?? 0);
  const w = Math.max(width, kept?.width ?? 0);
  const one = () => new Float64Array(m);
  const each = () => new Float64Array(m * w);
  const states = { level: one(), own: one(), wander: one(), lasting: one(), innovation: one() };
  const sums = { dd: one(), dy: one(), dx: each(), solved: each(), num: one(), square: one() };
  kept = { moments: m, width: w, ...states, ...sums };
  return kept;
}

/**
 * Filters the change that begins at each moment, the newest first, and sums its products.
 * The moments are carried on side by side, so that none waits for its own last step.
 */
export function respond(
  { level, own, wander, lasting, innovation, dd, dy, dx }: Room,
  moments: readonly number[],
  s: MixedSeries,
  by: {
    readonly run: SeriesRun;
    readonly steps: Float64Array;
    readonly lost: Float64Array;
    readonly from: number;
    readonly stride: number;
  },
): void {
  const { run, steps, lost, from, stride } = by;
  const { rows, gains } = run;
  const { low, high } = s;
  const many = moments.length;
  for (const each of [level, own, wander, lasting, dd, dy]) each.fill(0, 0, many);
  dx.fill(0, low * many, high * many);
  let begun = many;
  for (let j = moments[many - 1]! + 1; j < s.count; j++) {
    while (begun > 0 && moments[begun - 1]! < j) begun--;
    const t = (j - from) * stepNumbers;
    const scale = steps[t]!;
    const dt = steps[t + 1]!;
    const reach = steps[t + 2]!;
    const keepOwn = steps[t + 3]!;
    const keepWander = steps[t + 4]!;
    const keepLasting = steps[t + 5]!;
    const g = j * gainsEach;
    const ka = gains[g]!;
    const kb = gains[g + 1]!;
    const kw = gains[g + 2]!;
    const ku = gains[g + 3]!;
    const root = gains[g + 4]!;
    const y = rows[j * stride + stride - 1]!;
    const now = lost[j]!;
    for (let m = begun; m < many; m++) {
      const a = level[m]! + scale * (dt * own[m]! + reach * wander[m]!);
      const b = own[m]! * keepOwn;
      const w = wander[m]! * keepWander;
      const u = lasting[m]! * keepLasting;
      const v = now - lost[moments[m]!]! - a - u;
      level[m] = a + ka * v;
      own[m] = b + kb * v;
      wander[m] = w + kw * v;
      lasting[m] = u + ku * v;
      const e = v * root;
      innovation[m] = e;
      dd[m]! += e * e;
      dy[m]! += e * y;
    }
    for (let i = low; i < high; i++) {
      const x = rows[j * stride + i]!;
      const at = i * many;
      for (let m = begun; m < many; m++) dx[at + m]! += innovation[m]! * x;
    }
  }
}

/** Score and information of every moment, what one belief leaves open of the mean taken out. */
export function scoreOf(
  { dd, dy, dx, solved, num, square }: Room,
  many: number,
  low: number,
  high: number,
  width: number,
  { factor, at, slopes, from }: SolvedPair,
): void {
  for (let m = 0; m < many; m++) {
    num[m] = dy[m]!;
    square[m] = 0;
  }
  solved.fill(0, high * many, width * many);
  for (let i = low; i < high; i++) {
    const slope = slopes[from + i]!;
    for (let m = i * many, n = 0; n < many; m++, n++) {
      num[n]! -= dx[m]! * slope;
      solved[m] = dx[m]!;
    }
  }
  for (let i = low; i < width; i++) {
    const row = at + i * width;
    const own = i * many;
    for (let k = low; k < i; k++) {
      const l = factor![row + k]!;
      const other = k * many;
      for (let m = 0; m < many; m++) solved[own + m]! -= l * solved[other + m]!;
    }
    const pivot = factor![row + i]!;
    for (let m = 0; m < many; m++) {
      const x = solved[own + m]! / pivot;
      solved[own + m] = x;
      square[m]! += x * x;
    }
  }
  for (let m = 0; m < many; m++) square[m] = Math.max(1e-9, dd[m]! - square[m]!);
}

/** Numbers of a step that a change is carried by. */
const stepNumbers = 6;

/** The steps from a value on, number after number: read a thousand times, so no objects. */
export function stepTable(s: MixedSeries, from: number): Float64Array {
  const out = new Float64Array((s.count - from) * stepNumbers);
  for (let j = from; j < s.count; j++) {
    const { scale, dt, reach, keepOwn, keepWander, keepLasting } = s.step[j]!;
    out.set([scale, dt, reach, keepOwn, keepWander, keepLasting], (j - from) * stepNumbers);
  }
  return out;
}

/** First and last place that leave 5 % of the mass outside on either side. */
function middleNine(mass: Float64Array, total: number): readonly [number, number] {
  let low = 0;
  let high = mass.length - 1;
  let before = 0;
  for (let i = 0; i < mass.length; i++) {
    if (before <= 0.05 * total) low = i;
    if (before < 0.95 * total) high = i;
    before += mass[i]!;
  }
  return [low, high];
}
