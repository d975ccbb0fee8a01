import { groupT } from "../stats/group-z.js";
import { median } from "../stats/median.js";
import { slopeBasis, slopeBasisAt } from "../stats/smooth-slope-basis.js";
import { type FilterGains, filterGains, type GroupParameters } from "../stats/state-space-group.js";
import {
  addSums,
  type FitSeries,
  factorInPlace,
  filterSeries,
  fitGroup,
  type GroupFit,
  type GroupPrior,
  type GroupSums,
  newSums,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../stats/state-space-group-fit.js";
import { widening } from "./widening.js";

/** One animal as plain numbers, in order of time. */
export interface WatchedAnimal {
  readonly id: string;
  /** Age in days (days since admission where the age is unreliable), not whole days. */
  readonly time: Float64Array;
  /** Number of the feeding day of each value. */
  readonly day: Int32Array;
  readonly logMass: Float64Array;
  /** Known variance of ln mass beyond what the group estimates for itself. */
  readonly knownVariance: Float64Array;
  /** 1 where the value belongs to the healthy reference of the others. */
  readonly serves: Uint8Array;
  /** The same once the record has ended and what followed is known; from that day on. */
  readonly ended?: { readonly day: number; readonly serves: Uint8Array } | null;
  /** False where the age is unknown or estimated from mass: then no level, and others near in mass. */
  readonly ageReliable?: boolean;
}

export interface WatchOptions {
  /** Parameters are estimated again after this many days. Default 5. */
  readonly refitEvery?: number;
  /** A change of gain is looked for up to this many days back. Default 42. */
  readonly lookBackD?: number;
  /** The share of the expected gain that is suspected to be missing. Default 0.5. */
  readonly shortfall?: number;
  /** Fewest own weighed days before an animal is judged. Default 4. */
  readonly fewestOwn?: number;
  readonly ageWithinD?: number;
  readonly massWithin?: number;
  readonly gainDays?: number;
  readonly peakDays?: number;
}

/** The statistics that share one budget of false flags; larger is worse. */
export const watchedStatistics = [
  "slowed gain",
  "level",
  "gain",
  "surprise average",
  "surprise sum",
  "loss from peak",
  "too-fast gain",
] as const;

export type WatchedStatistic = (typeof watchedStatistics)[number];

/** What is known of one animal at the end of one day, from data up to that day only. */
export interface WatchedDay {
  readonly animal: number;
  readonly day: number;
  /** In the order of {@link watchedStatistics}; NaN where not judged. */
  readonly statistics: Float64Array;
  /** Index of the day's value in the animal's arrays. */
  readonly index: number;
  /** Standardised surprise of the day's weighing, before it was tamed. */
  readonly surprise: number;
  /**
   * What the weighing was expected to be, given the group and the animal's own
   * earlier weighings: mean and standard deviation of ln mass (today's own error included).
   */
  readonly expected: { readonly logMass: number; readonly sd: number } | null;
  /** The most likely start of a slowdown: index of the value, share missing and its error. */
  readonly change: SuspectedChange | null;
  /** ln mass of the day and the centre of the contemporaries, brought to its age. */
  readonly level: { readonly own: number; readonly centre: number; readonly n: number } | null;
  /** Relative gain per day over the window, and the centre of the contemporaries. */
  readonly gain: { readonly own: number; readonly centre: number; readonly n: number } | null;
  /** Contemporaries found for level and gain. */
  readonly contemporaries: number;
}

export interface SuspectedChange {
  readonly index: number;
  /** Share of the expected gain that is missing since then, and its standard error. */
  readonly missing: number;
  readonly se: number;
  /** Indices between which the change lies with 90 % probability, all days equally likely before. */
  readonly earliest: number;
  readonly latest: number;
}

export interface WatchState {
  readonly parameters: GroupParameters;
  readonly fit: GroupFit | null;
  /** Expected relative gain per day (slope of ln mass) at a time. */
  readonly expectedGain: (time: number) => number;
  /** Animals with at least two values so far: the size of the group. */
  readonly animals: number;
}

const surpriseCut = 3.5;
/** Weight of the newest surprise in the moving average, and allowance of the cumulative sum. */
export const averageWeight = 0.2;
export const sumAllowance = 0.5;
const knotSpacing = 20;
const smoothness = { spacing: knotSpacing, changeSd: 0.003, slopeSd: 0.03 };

export const watchPrior: GroupPrior = {
  logNoise: [Math.log(0.015), 0.7],
  logSlope: [Math.log(0.0015), 0.5],
  logWalk: [Math.log(0.0018), 0.6],
  logitShare: [-1, 1.2],
};

const startParameters: GroupParameters = {
  noiseSd: 0.015,
  persistentShare: 0.25,
  slopeSd: 0.0015,
  walkSd: 0.0018,
};

/**
 * Watches a group of animals of one species day by day, from the first day of
 * record to `lastDay`. On each day it reads nothing later: it (re)estimates what
 * the group has in common, and for every animal weighed that day computes the
 * statistics that can raise a flag. `see` is called once per animal and day, in
 * order of day and animal.
 *
 * The main statistic, "slowed gain", is the log likelihood ratio of a gain that
 * fell by `shortfall` at the worst moment of the last `lookBackD` days, against
 * the animal's own earlier gain and the group's curve, both with their errors
 * (a generalised least squares test over the whole group). A weighing more than
 * 3.5 standard errors off is pulled in to 3.5 before it enters.
 */
export function watchGroup(
  animals: readonly WatchedAnimal[],
  lastDay: number,
  options: WatchOptions,
  see: (seen: WatchedDay, state: WatchState) => void,
  firstSeenDay = Number.NEGATIVE_INFINITY,
): void {
  const o = {
    refitEvery: options.refitEvery ?? 5,
    lookBackD: options.lookBackD ?? 42,
    shortfall: options.shortfall ?? 0.5,
    fewestOwn: options.fewestOwn ?? 4,
    ageWithinD: options.ageWithinD ?? 14,
    massWithin: options.massWithin ?? 0.2,
    gainDays: options.gainDays ?? 7,
    peakDays: options.peakDays ?? 7,
  };
  const firstDay = animals.reduce(
    (first, a) => (a.day.length > 0 ? Math.min(first, a.day[0]!) : first),
    Number.POSITIVE_INFINITY,
  );
  if (!(firstDay <= lastDay)) return;
  const works = animals.map((a) => new Work(a));
  let parameters = startParameters;
  let fit: GroupFit | null = null;
  let lastFitDay = Number.NEGATIVE_INFINITY;
  const columnRoom = new Float64Array(Math.max(1, ...animals.map((a) => a.time.length)));
  const innovationRoom = new Float64Array(columnRoom.length);
  const likelihoodRoom = new Float64Array(columnRoom.length);

  for (let day = firstDay; day <= lastDay; day++) {
    let anyToday = false;
    for (const w of works) {
      w.advance(day);
      if (w.count > 0 && w.today) anyToday = true;
    }
    if (!anyToday) continue;
    // Knots only over the ages seen so far: the others wait for their data.
    let youngest = Number.POSITIVE_INFINITY;
    let oldest = Number.NEGATIVE_INFINITY;
    for (const w of works) {
      if (w.count === 0) continue;
      youngest = Math.min(youngest, w.time[0]!);
      oldest = Math.max(oldest, w.lastTime);
    }
    const from = Math.floor(youngest / knotSpacing) * knotSpacing;
    const width = Math.max(2, Math.ceil((oldest - from) / knotSpacing - 1e-9) + 1);
    const precision = slopeBasis(from, from + (width - 1) * knotSpacing, smoothness).precision;
    for (const w of works) w.narrow(width, from);
    if (day - lastFitDay >= o.refitEvery) {
      const ready = works.filter((w) => w.count >= 2);
      const values = ready.reduce((sum, w) => sum + w.count, 0);
      if (values >= 12) {
        fit = fitGroup(ready, width, precision, watchPrior, parameters, 10);
        parameters = fit.parameters;
        lastFitDay = day;
      }
    }
    // What all serving values say together, and each animal's own part.
    const all = newSums(width);
    for (const w of works) w.filter(parameters, width, all);
    const beta = new Float64Array(width);
    {
      const factor = add(all.xx, precision);
      beta.set(all.xy);
      if (!factorInPlace(factor, width)) continue;
      solveLowerInPlace(factor, width, beta);
      solveUpperInPlace(factor, width, beta);
    }
    const expectedGain = (time: number) => slopeAt(beta, from, time);
    const size = works.filter((w) => w.count >= 2).length;
    const state: WatchState = { parameters, fit, expectedGain, animals: size };
    const gains = works.map((w) => (w.today ? w.windowGain(o.gainDays) : Number.NaN));
    const recentGain = works.map((w, i) =>
      w.today
        ? gains[i]!
        : w.count > 0 && day - w.lastDay <= 3
          ? w.windowGain(o.gainDays)
          : Number.NaN,
    );
    for (let i = 0; i < works.length; i++) {
      const w = works[i]!;
      if (!w.today) continue;
      const seen = judge(
        w,
        i,
        works,
        gains,
        recentGain,
        all,
        precision,
        width,
        parameters,
        expectedGain,
        o,
        day,
        size,
      );
      if (day >= firstSeenDay && seen !== null) see(seen, state);
    }
  }

  function judge(
    w: Work,
    animal: number,
    everyone: readonly Work[],
    gains: readonly number[],
    recentGain: readonly number[],
    all: GroupSums,
    precision: Float64Array,
    width: number,
    p: GroupParameters,
    expectedGain: (time: number) => number,
    settings: typeof o,
    day: number,
    size: number,
  ): WatchedDay | null {
    const statistics = new Float64Array(watchedStatistics.length).fill(Number.NaN);
    const index = w.count - 1;
    // The group without this animal's serving values, plus all its own.
    const factor = add(all.xx, precision);
    const b = Float64Array.from(all.xy);
    for (let k = 0; k < width * width; k++) factor[k]! += w.full.xx[k]! - w.serving.xx[k]!;
    for (let k = 0; k < width; k++) b[k]! += w.full.xy[k]! - w.serving.xy[k]!;
    if (!factorInPlace(factor, width)) return null;
    solveLowerInPlace(factor, width, b);
    solveUpperInPlace(factor, width, b);
    const stride = width + 1;
    const filtered = w.filtered;
    // Surprise of today's value given everything but itself.
    let surprise = Number.NaN;
    let expected: WatchedDay["expected"] = null;
    if (index >= 1) {
      const x = filtered.slice(index * stride, index * stride + width);
      let e = filtered[index * stride + width]!;
      for (let k = 0; k < width; k++) e -= x[k]! * b[k]!;
      solveLowerInPlace(factor, width, x);
      let leverage = 0;
      for (let k = 0; k < width; k++) leverage += x[k]! * x[k]!;
      const root = Math.sqrt(Math.max(1e-6, 1 - leverage));
      surprise = e / root;
      const sd = 1 / (root * w.gains!.table[index * 7 + 6]!);
      expected = { logMass: w.y[index]! - surprise * sd, sd };
      const tamed = Math.max(-surpriseCut, Math.min(surpriseCut, surprise));
      w.learn(tamed);
      if (tamed !== surprise) {
        // Pull the value in, so that one slip does not speak for days.
        w.y[index]! -= (surprise - tamed) * sd;
        filtered[index * stride + width]! -= (surprise - tamed) / root;
      }
    }
    const judged = w.count >= settings.fewestOwn && size >= 4;
    let change: WatchedDay["change"] = null;
    if (judged) {
      const scan = scanForSlowing(w, factor, b, width, expectedGain, settings);
      const wide = widening(p, size);
      statistics[0] = scan.ratio / wide;
      change = scan.change;
      statistics[3] = -w.average / Math.sqrt((wide * averageWeight) / (2 - averageWeight));
      statistics[4] = w.sum / Math.sqrt(wide);
      statistics[5] = w.lossFromPeak(settings.peakDays, p.noiseSd ** 2);
    }
    let levelDetail: WatchedDay["level"] = null;
    let gainDetail: WatchedDay["gain"] = null;
    let contemporaries = 0;
    if (w.count >= settings.fewestOwn) {
      const ownReliable = w.source.ageReliable !== false;
      const levels: number[] = [];
      const others: number[] = [];
      const near: number[] = [];
      for (let k = 0; k < everyone.length; k++) {
        const other = everyone[k]!;
        if (k === animal || other.count === 0 || day - other.lastDay > 3) continue;
        if (other.serves[other.count - 1] === 0) continue;
        if (!ownReliable) {
          if (Math.abs(Math.expm1(other.y[other.count - 1]! - w.y[index]!)) > settings.massWithin)
            continue;
        } else if (
          other.source.ageReliable === false ||
          Math.abs(other.lastTime - w.lastTime) > settings.ageWithinD
        ) {
          continue;
        }
        near.push(k);
        if (!Number.isNaN(recentGain[k]!)) others.push(recentGain[k]!);
      }
      const drift = median(others) ?? 0;
      for (const k of near) {
        const other = everyone[k]!;
        levels.push(other.y[other.count - 1]! + drift * (w.lastTime - other.lastTime));
      }
      contemporaries = near.length;
      const level = groupT(w.y[index]!, levels);
      if (level.z !== null && ownReliable) {
        statistics[1] = -level.z;
        levelDetail = { own: w.y[index]!, centre: level.centre, n: levels.length };
      }
      if (!Number.isNaN(gains[animal]!)) {
        const gain = groupT(gains[animal]!, others);
        if (gain.z !== null) {
          gainDetail = { own: gains[animal]!, centre: gain.centre, n: others.length };
          statistics[2] = -gain.z;
          statistics[6] = gain.z;
        }
      }
    }
    return {
      animal,
      day,
      statistics,
      index,
      surprise,
      expected,
      change,
      level: levelDetail,
      gain: gainDetail,
      contemporaries,
    };
  }

  function scanForSlowing(
    w: Work,
    factor: Float64Array,
    b: Float64Array,
    width: number,
    expectedGain: (time: number) => number,
    settings: typeof o,
  ) {
    const { count } = w;
    const stride = width + 1;
    const t = w.source.time;
    const filtered = w.filtered;
    // Expected ln gain between neighbours, kept above a small positive rate.
    let best = Number.NEGATIVE_INFINITY;
    let bestIndex = -1;
    let bestNumerator = 0;
    let bestDenominator = 1;
    const innovationY = innovationRoom;
    for (let j = 1; j < count; j++) {
      let e = filtered[j * stride + width]!;
      for (let k = 0; k < width; k++) e -= filtered[j * stride + k]! * b[k]!;
      innovationY[j] = e;
    }
    const innovationLikelihood = likelihoodRoom;
    let earliestStart = Math.max(0, count - 2);
    const d = columnRoom;
    const dx = new Float64Array(width);
    for (let start = count - 2; start >= 0; start--) {
      if (t[count - 1]! - t[start]! > settings.lookBackD) break;
      d[start] = 0;
      for (let j = start + 1; j < count; j++) {
        const dt = t[j]! - t[j - 1]!;
        const rate = Math.max(0.002, expectedGain(0.5 * (t[j]! + t[j - 1]!)));
        d[j] = d[j - 1]! - settings.shortfall * rate * dt;
      }
      // Filter the suspected change and take its products on the way.
      const { table } = w.gains!;
      let a = 0;
      let s = 0;
      let u = 0;
      let dd = 0;
      let dy = 0;
      dx.fill(0);
      for (let j = start + 1; j < count; j++) {
        const at = j * 7;
        if (j > start + 1) {
          a += s * table[at]!;
          s *= table[at + 1]!;
          u *= table[at + 2]!;
        }
        const v = d[j]! - a - u;
        a += table[at + 3]! * v;
        s += table[at + 4]! * v;
        u += table[at + 5]! * v;
        const e = v * table[at + 6]!;
        dd += e * e;
        dy += e * innovationY[j]!;
        for (let k = 0; k < width; k++) dx[k]! += e * filtered[j * stride + k]!;
      }
      solveLowerInPlace(factor, width, dx);
      let known = 0;
      for (let k = 0; k < width; k++) known += dx[k]! * dx[k]!;
      const denominator = Math.max(1e-9, dd - known);
      const ratio = dy - 0.5 * denominator;
      if (ratio > best) {
        best = ratio;
        bestIndex = start;
        bestNumerator = dy;
        bestDenominator = denominator;
      }
      // Likelihood of a change here with the best shortfall, for the interval of its day.
      innovationLikelihood[start] = dy > 0 ? (dy * dy) / (2 * denominator) : 0;
      earliestStart = start;
    }
    const [earliest, latest] = mostLikelyRange(innovationLikelihood, earliestStart, count - 2);
    return {
      ratio: bestIndex < 0 ? Number.NaN : best,
      change:
        bestIndex < 0
          ? null
          : {
              index: bestIndex,
              missing: (settings.shortfall * bestNumerator) / bestDenominator,
              se: settings.shortfall / Math.sqrt(bestDenominator),
              earliest,
              latest,
            },
    };
  }
}

/** First and last index that leave 5 % of the probability outside on either side. */
function mostLikelyRange(log: Float64Array, from: number, to: number): readonly [number, number] {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = from; i <= to; i++) most = Math.max(most, log[i]!);
  let total = 0;
  for (let i = from; i <= to; i++) total += Math.exp(log[i]! - most);
  let low = from;
  let high = to;
  let sum = 0;
  for (let i = from; i <= to; i++) {
    const before = sum;
    sum += Math.exp(log[i]! - most);
    if (before <= 0.05 * total) low = i;
    if (before < 0.95 * total) high = i;
  }
  return [low, high];
}

/** The running state of one animal. */
class Work implements FitSeries {
  count = 0;
  today = false;
  lastDay = Number.NEGATIVE_INFINITY;
  lastTime = Number.NaN;
  average = 0;
  sum = 0;
  readonly y: Float64Array;
  basis: Float64Array = new Float64Array(0);
  filtered: Float64Array = new Float64Array(0);
  gains: FilterGains | null = null;
  full: GroupSums = newSums(1);
  serving: GroupSums = newSums(1);
  private width = 0;
  private from = Number.NaN;
  private room: Float64Array;

  constructor(readonly source: WatchedAnimal) {
    this.y = Float64Array.from(source.logMass);
    this.room = new Float64Array(source.time.length * 7);
  }

  get time() {
    return this.source.time;
  }
  get knownVariance() {
    return this.source.knownVariance;
  }
  serves: Uint8Array = new Uint8Array(0);

  advance(day: number): void {
    const { day: days, time } = this.source;
    this.today = false;
    const { ended } = this.source;
    this.serves = ended != null && day > ended.day ? ended.serves : this.source.serves;
    while (this.count < days.length && days[this.count]! <= day) {
      this.today = days[this.count]! === day;
      this.lastDay = days[this.count]!;
      this.lastTime = time[this.count]!;
      this.count++;
    }
  }

  /** The basis with `width` knots; beyond the last one the slope stays constant. */
  narrow(width: number, from: number): void {
    if (width === this.width && from === this.from) return;
    this.width = width;
    this.from = from;
    const { time } = this.source;
    const n = time.length;
    const basis = slopeBasis(from, from + (width - 1) * knotSpacing, smoothness);
    this.basis = new Float64Array(n * width);
    for (let j = 0; j < n; j++) slopeBasisAt(basis, time[j]!, this.basis, j * width);
    this.filtered = new Float64Array(n * (width + 1));
    this.full = newSums(width);
    this.serving = newSums(width);
  }

  filter(parameters: GroupParameters, width: number, all: GroupSums): void {
    if (this.count < 2) {
      this.full = newSums(width);
      this.serving = newSums(width);
      if (this.count > 0) this.gains = filterGains(this, this.count, parameters, this.room);
      return;
    }
    this.gains = filterGains(this, this.count, parameters, this.room);
    filterSeries(this, this.gains, width, this.filtered);
    for (const sums of [this.full, this.serving]) {
      sums.xx.fill(0);
      sums.xy.fill(0);
      sums.yy = 0;
    }
    addSums(this.full, this.filtered, this.count, width, null);
    addSums(this.serving, this.filtered, this.count, width, this.serves);
    for (let k = 0; k < width * width; k++) all.xx[k]! += this.serving.xx[k]!;
    for (let k = 0; k < width; k++) all.xy[k]! += this.serving.xy[k]!;
  }

  learn(surprise: number): void {
    this.average += averageWeight * (surprise - this.average);
    this.sum = Math.max(0, this.sum - surprise - sumAllowance);
  }

  /** Slope of ln mass per day over the window that ends with the last value. */
  windowGain(days: number): number {
    const { time } = this.source;
    const last = this.count - 1;
    let n = 0;
    let st = 0;
    let sy = 0;
    let first = last;
    for (let j = last; j >= 0 && time[last]! - time[j]! < days; j--) {
      n++;
      st += time[j]!;
      sy += this.y[j]!;
      first = j;
    }
    if (n < 4 || time[last]! - time[first]! < 0.5 * days) return Number.NaN;
    const mt = st / n;
    const my = sy / n;
    let xx = 0;
    let xy = 0;
    for (let j = first; j <= last; j++) {
      xx += (time[j]! - mt) ** 2;
      xy += (time[j]! - mt) * (this.y[j]! - my);
    }
    return xy / xx;
  }

  /** Largest fall from an earlier weighing of the last days, in its own standard errors. */
  lossFromPeak(days: number, noiseVariance: number): number {
    const last = this.count - 1;
    const { day, logMass, knownVariance } = this.source;
    let most = 0;
    for (let j = last - 1; j >= 0 && day[last]! - day[j]! <= days; j--) {
      const error = Math.sqrt(2 * noiseVariance + knownVariance[j]! + knownVariance[last]!);
      most = Math.max(most, (logMass[j]! - logMass[last]!) / error);
    }
    return most;
  }
}

/** Slope of the mean curve: linear between knots, constant beyond them. */
function slopeAt(beta: Float64Array, from: number, time: number): number {
  const x = (time - from) / knotSpacing;
  const last = beta.length - 1;
  if (x <= 0) return beta[0]!;
  if (x >= last) return beta[last]!;
  const k = Math.floor(x);
  return beta[k]! + (x - k) * (beta[k + 1]! - beta[k]!);
}

function add(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < a.length; i++) out[i] = a[i]! + b[i]!;
  return out;
}
