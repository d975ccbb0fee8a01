import { slopeBasisAt } from "../../stats/smoothing/smooth-slope-basis.js";
import {
  type FilterGains,
  filterGains,
  type GroupParameters,
} from "../../stats/state-space/group.js";
import {
  addSums,
  type FitSeries,
  filterSeries,
  type GroupSums,
  newSums,
} from "../../stats/state-space/group-fit.js";
import type { MeanGainKnots } from "./mean-gain-curve.js";
import type { WatchedAnimal } from "./watched-animal.js";

/** Weight of the newest surprise in the moving average, and allowance of the cumulative sum. */
export const averageWeight = 0.2;
export const sumAllowance = 0.5;

/** The running state of one animal: how far its record has been read, and what was made of it. */
export class RunningAnimal implements FitSeries {
  /** Values read so far, and whether the newest is of the day looked at. */
  count = 0;
  today = false;
  lastDay = Number.NEGATIVE_INFINITY;
  lastTime = Number.NaN;
  /** Moving average and cumulative sum of the surprises. */
  average = 0;
  sum = 0;
  /** ln mass; a value far off is pulled in once it has been judged. */
  readonly y: Float64Array;
  serves: Uint8Array = new Uint8Array(0);
  basis: Float64Array = new Float64Array(0);
  /** Per value: the basis columns and y, filtered to standardised innovations. */
  filtered: Float64Array = new Float64Array(0);
  gains: FilterGains | null = null;
  /** Sums of products over all its values, and over those that serve the others. */
  full: GroupSums = newSums(1);
  serving: GroupSums = newSums(1);
  /** Parameters of the last filtering, where nothing it rests on has changed since. */
  private filteredWith: GroupParameters | null = null;
  private knownSum = 0;
  private width = 0;
  private from = Number.NaN;
  private room: Float64Array;

  constructor(readonly source: WatchedAnimal) {
    this.y = Float64Array.from(source.logMass);
    this.room = new Float64Array(source.time.length * 7);
  }

  get time(): Float64Array {
    return this.source.time;
  }
  get knownVariance(): Float64Array {
    return this.source.knownVariance;
  }

  /** Mean known variance of the values read so far. */
  meanKnownVariance(): number {
    return this.count === 0 ? 0 : this.knownSum / this.count;
  }

  /** Reads on to the end of `day`. */
  advance(day: number): void {
    const { day: days, time } = this.source;
    this.today = false;
    const { ended } = this.source;
    const serves = ended != null && day > ended.day ? ended.serves : this.source.serves;
    if (serves !== this.serves) this.filteredWith = null;
    this.serves = serves;
    while (this.count < days.length && days[this.count]! <= day) {
      this.today = days[this.count]! === day;
      this.lastDay = days[this.count]!;
      this.lastTime = time[this.count]!;
      this.knownSum += this.source.knownVariance[this.count]!;
      this.count++;
      this.filteredWith = null;
    }
  }

  /** The basis with these knots; beyond the last one the slope stays constant. */
  place({ width, from, basis }: MeanGainKnots): void {
    if (width === this.width && from === this.from) return;
    this.width = width;
    this.from = from;
    this.filteredWith = null;
    const { time } = this.source;
    const n = time.length;
    this.basis = new Float64Array(n * width);
    for (let j = 0; j < n; j++) slopeBasisAt(basis, time[j]!, this.basis, j * width);
    this.filtered = new Float64Array(n * (width + 1));
    this.full = newSums(width);
    this.serving = newSums(width);
  }

  /** Filters what was read and adds what serves to the sums of the group. */
  filter(parameters: GroupParameters, width: number, all: GroupSums): void {
    if (this.count < 2) {
      this.full = newSums(width);
      this.serving = newSums(width);
      if (this.count > 0) this.gains = filterGains(this, this.count, parameters, this.room);
      return;
    }
    if (this.filteredWith !== parameters) {
      this.gains = filterGains(this, this.count, parameters, this.room);
      filterSeries(this, this.gains, width, this.filtered);
      for (const sums of [this.full, this.serving]) {
        sums.xx.fill(0);
        sums.xy.fill(0);
        sums.yy = 0;
      }
      addSums(this.full, this.filtered, this.count, width, null);
      addSums(this.serving, this.filtered, this.count, width, this.serves);
    }
    // A weighing of today may still be pulled in when it is judged.
    this.filteredWith = this.today ? null : parameters;
    for (let k = 0; k < width * width; k++) all.xx[k]! += this.serving.xx[k]!;
    for (let k = 0; k < width; k++) all.xy[k]! += this.serving.xy[k]!;
  }

  learn(surprise: number): void {
    this.average += averageWeight * (surprise - this.average);
    this.sum = Math.max(0, this.sum - surprise - sumAllowance);
  }

  /** Slope of ln mass per day over the window that ends with a value; the last one by default. */
  windowGain(days: number, last = this.count - 1): number {
    const { time } = this.source;
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

  /** Index of the value read so far that is nearest by `away`; -1 when none is within the bound. */
  nearest(away: (index: number) => number, within: number): number {
    let best = -1;
    let least = within;
    for (let j = 0; j < this.count; j++) {
      const d = away(j);
      if (d <= least && (best < 0 || d < least)) {
        least = d;
        best = j;
      }
    }
    return best;
  }

  /** True once the record has ended before `day`. */
  isEarlier(day: number): boolean {
    const { ended } = this.source;
    return ended != null && day > ended.day;
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
