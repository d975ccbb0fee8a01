import {
  type Borrowed,
  expectationPrior,
  vagueWeights,
  type WeakGain,
} from "../../reference/expectation-prior.js";
import { type PopulationSummary, summariseGroup } from "../../reference/population-summary.js";
import { type CommonChange, commonChange } from "../../stats/state-space/common-change.js";
import { slopeAt } from "../../stats/state-space/hat-slopes.js";
import { type LevelShift, levelShift } from "../../stats/state-space/level-shift.js";
import {
  type PathAfterChangeOptions,
  pathAfterChange,
} from "../../stats/state-space/path-after-change.js";
import { pathAhead } from "../../stats/state-space/path-ahead.js";
import { SlopeMixture } from "../../stats/state-space/slope-mixture.js";
import type { WanderingParameters } from "../../stats/state-space/wandering-slope.js";
import type { RunningAnimal } from "./running-animal.js";
import type { Expected, WatchState } from "./watched-day.js";

/** A weighing further off than this many standard errors is pulled in to it. */
const surpriseCut = 3.5;

/** The size of the gain that wanders and differs is taken from no less than this. */
const leastGain = 0.003;

/**
 * A fall of gain that all share is looked for over four weeks; shares of the expected gain
 * that may be missing, before anything is seen. Common practice, no source.
 */
export const sharedChange = {
  lookBack: 28,
  missing: [
    { share: 0.15, weight: 0.3 },
    { share: 0.25, weight: 0.4 },
    { share: 0.45, weight: 0.3 },
  ],
  leastSlope: 0.002,
};

export interface ReadWeighing {
  /** Standardised surprise before the weighing was pulled in; NaN for an animal's first. */
  readonly surprise: number;
  readonly expected: Expected | null;
}

/**
 * One season's group: what is expected of its animals, and what every weighing
 * teaches. The one owner of "expected gain and its uncertainty of this animal today".
 */
export class WatchedSeason {
  readonly works: RunningAnimal[] = [];
  /** Asked for by every later season: worked out once for what has been seen. */
  private summed: { readonly version: number; readonly summary: PopulationSummary } | null = null;

  constructor(
    readonly mixture: SlopeMixture,
    readonly borrowed: Borrowed,
  ) {}

  /** A season that begins, knowing what the species, other nurseries and earlier seasons say. */
  static begun(
    weak: WeakGain,
    nurseries: readonly PopulationSummary[],
    earlier: readonly PopulationSummary[],
  ): WatchedSeason {
    const { prior, borrowed } = expectationPrior(weak, nurseries, earlier);
    return new WatchedSeason(new SlopeMixture(prior), borrowed);
  }

  /** What each animal weighed today was expected to weigh; nothing of today is read yet. */
  expect(w: RunningAnimal): { expected: Expected | null; scale: number } {
    const j = w.count - 1;
    const scale = this.scaleAt(w, w.time[j]!);
    if (w.series.count === 0 || w.source.anew?.[j] === 1) return { expected: null, scale };
    return { expected: this.expectedAt(w, w.time[j]!, w.source.knownVariance[j]!), scale };
  }

  /** Expected ln mass of a weighing at a time, with this known variance, and expected gain. */
  expectedAt(w: RunningAnimal, time: number, knownVariance: number): Expected {
    const p = this.mixture.predict(w.series, time, knownVariance, this.scaleAt(w, time));
    return { logMass: p.mean, sd: p.sd, gain: { perDay: p.slope, sd: p.slopeSd } };
  }

  /** The animal's way from its last weighing on: its mass, or what a weighing would show. */
  pathAhead(w: RunningAnimal, times: readonly number[], of: "level" | "value") {
    const { prior, slopes } = this.mixture;
    const scaleAt = (time: number) => Math.max(leastGain, slopeAt(prior.knots, slopes, time));
    return pathAhead(this.mixture, w.series, { times, scaleAt, of });
  }

  /**
   * The same where its gain may have fallen short of late, as `slopeChange` looks for it: it
   * goes on so, or gains from now on as any other of its group. The mixture must be settled.
   */
  pathAfterChange(w: RunningAnimal, ahead: Omit<PathAfterChangeOptions, "scaleAt">) {
    const { prior, slopes } = this.mixture;
    const scaleAt = (time: number) => Math.max(leastGain, slopeAt(prior.knots, slopes, time));
    return pathAfterChange(this.mixture, w.series, { ...ahead, scaleAt });
  }

  /** Mean and standard deviation of ln mass of a weighing at these times. */
  weighingsAhead(w: RunningAnimal, times: readonly number[]): Pick<Expected, "logMass" | "sd">[] {
    const parts = this.pathAhead(w, times, "value");
    return times.map((_, i) => {
      let mean = 0;
      let square = 0;
      for (const p of parts) {
        mean += p.weight * p.mean[i]!;
        square += p.weight * (p.mean[i]! ** 2 + p.sd[i]! ** 2);
      }
      return { logMass: mean, sd: Math.sqrt(Math.max(0, square - mean * mean)) };
    });
  }

  /** Takes in today's weighing; one far off is pulled in, so that a slip does not speak for days. */
  read(w: RunningAnimal, expected: Expected | null, scale: number): ReadWeighing {
    const j = w.count - 1;
    let surprise = Number.NaN;
    if (expected !== null) {
      surprise = (w.y[j]! - expected.logMass) / expected.sd;
      const tamed = Math.max(-surpriseCut, Math.min(surpriseCut, surprise));
      w.learn(tamed);
      if (tamed !== surprise) w.y[j] = expected.logMass + tamed * expected.sd;
    }
    const { time, knownVariance } = w.source;
    const serves = w.serves[j] !== 0;
    const anew = w.source.anew?.[j] === 1;
    this.mixture.append(w.series, time[j]!, w.y[j]!, knownVariance[j]!, scale, serves, anew);
    return { surprise, expected };
  }

  /**
   * Whether the gain of all fell short together from one day on: the change, in days of
   * `WatchedAnimal.day`. The mixture must be settled.
   */
  commonChange(): CommonChange | null {
    const members = this.works
      .filter((w) => w.series.count >= 2)
      .map((w) => ({ series: w.series, offset: w.source.day[0]! - w.source.time[0]! }));
    return commonChange(this.mixture, members, sharedChange);
  }

  /**
   * Whether all gain less than nurseries and earlier seasons led to expect, from the season's
   * first day on; null where there is nothing to hold it against. The mixture must be settled.
   */
  levelShift(): LevelShift | null {
    const { width } = this.mixture;
    const along = new Float64Array(width);
    for (const { series: s } of this.works)
      for (let i = 0; s.count >= 2 && i < width; i++)
        along[i]! += s.basis[(s.count - 1) * width + i]!;
    return levelShift(this.mixture, along, sharedChange.missing);
  }

  /** What has been seen of this season, for the seasons to come. */
  summary(): PopulationSummary {
    this.mixture.settle();
    const { version } = this.mixture;
    if (this.summed?.version !== version)
      this.summed = { version, summary: summariseGroup(this.mixture, this.size(), vagueWeights) };
    return this.summed.summary;
  }

  /** Animals with at least two values so far. */
  size(): number {
    return this.works.filter((w) => w.series.count >= 2).length;
  }

  state(): WatchState {
    const slopes = this.mixture.slopes.slice();
    const { knots } = this.mixture.prior;
    return {
      variation: this.variation(),
      expectedGain: (time) => slopeAt(knots, slopes, time),
      animals: this.size(),
      borrowed: this.borrowed,
    };
  }

  private variation(): WanderingParameters {
    const mean = { noiseSd: 0, lastingShare: 0, wander: 0, spread: 0 };
    this.mixture.prior.parameters.forEach((p, k) => {
      const share = this.mixture.parameterShare[k]!;
      mean.noiseSd += share * p.noiseSd;
      mean.lastingShare += share * p.lastingShare;
      mean.wander += share * p.wander;
      mean.spread += share * p.spread;
    });
    return mean;
  }

  private scaleAt(w: RunningAnimal, time: number): number {
    const { series } = w;
    const before = series.count === 0 ? time : series.time[series.count - 1]!;
    const { prior, slopes } = this.mixture;
    return Math.max(leastGain, slopeAt(prior.knots, slopes, 0.5 * (before + time)));
  }
}
