import { MixedSeries } from "../../stats/state-space/mixed-series.js";
import type { WatchedAnimal } from "./watched-animal.js";

/** Weight of the newest surprise in the moving average, and allowance of the cumulative sum. */
export const averageWeight = 0.2;
export const sumAllowance = 0.5;

/** The running state of one animal: how far its record has been read, and what was made of it. */
export class RunningAnimal {
  /** Values read so far, and whether the newest is of the day looked at. */
  count = 0;
  today = false;
  lastDay = Number.NEGATIVE_INFINITY;
  lastTime = Number.NaN;
  /** Moving average and cumulative sum of the surprises. */
  average = 0;
  sum = 0;
  /** ln mass; a value far off is pulled in when it is read. */
  readonly y: Float64Array;
  serves: Uint8Array;
  readonly series: MixedSeries;

  constructor(
    readonly source: WatchedAnimal,
    /** The same animal as far as it was read, to be gone on with apart. */
    like?: RunningAnimal,
  ) {
    this.y = Float64Array.from(source.logMass);
    this.serves = source.serves;
    this.series = like?.series.copy() ?? new MixedSeries();
    if (like === undefined) return;
    this.y.set(like.y.subarray(0, like.count));
    if (like.serves !== like.source.serves) this.serves = source.ended!.serves;
    this.count = like.count;
    this.today = like.today;
    this.lastDay = like.lastDay;
    this.lastTime = like.lastTime;
    this.average = like.average;
    this.sum = like.sum;
  }

  get time(): Float64Array {
    return this.source.time;
  }

  /** Reads on to the end of `day`. */
  advance(day: number): void {
    const { day: days, time } = this.source;
    this.today = false;
    while (this.count < days.length && days[this.count]! <= day) {
      this.today = days[this.count]! === day;
      this.lastDay = days[this.count]!;
      this.lastTime = time[this.count]!;
      this.count++;
    }
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

  /** The same by time alone, which rises: the first of those that are as near, found by halving. */
  nearestInTime(time: number, within: number): number {
    let low = 0;
    let high = this.count;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.time[middle]! < time) low = middle + 1;
      else high = middle;
    }
    const away = (j: number) => Math.abs(this.time[j]! - time);
    let best = low < this.count ? low : low - 1;
    if (low > 0 && away(low - 1) <= away(best)) best = low - 1;
    while (best > 0 && away(best - 1) <= away(best)) best--;
    return best >= 0 && away(best) <= within ? best : -1;
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
