import { slopeChange } from "../../stats/state-space/slope-change.js";
import { levelAndGain } from "./among-contemporaries.js";
import { ownChange } from "./own-change.js";
import { averageWeight, type RunningAnimal } from "./running-animal.js";
import type { WatchSettings } from "./watch-options.js";
import type { WatchedDay, WatchedStatistic, WatchState } from "./watched-day.js";
import type { ReadWeighing, WatchedSeason } from "./watched-season.js";

/**
 * The evidence shown is log(1 + 10 x Bayes factor): near 0 without any, never negative, so
 * that a share of its threshold means something and an episode closes when it has faded.
 */
export const shownEvidence = (logBayesFactor: number) =>
  Math.log1p(evidenceScale * Math.exp(logBayesFactor));

const evidenceScale = 10;

/** The group on a day, as far as one animal is judged beside it. */
export interface JudgedDay {
  readonly day: number;
  readonly works: readonly RunningAnimal[];
  /** Gain over the window of those weighed within the last days, in order; NaN where not known. */
  readonly recentGain: ReadonlyMap<RunningAnimal, number>;
  readonly settings: WatchSettings;
}

/** Every statistic of one animal weighed today, read into its season already. */
export function judgeWeighing(
  animal: number,
  season: WatchedSeason,
  state: WatchState,
  reading: ReadWeighing,
  { day, works, recentGain, settings: o }: JudgedDay,
): WatchedDay {
  const w = works[animal]!;
  const statistics: Record<WatchedStatistic, number> = {
    "slowed gain": Number.NaN,
    level: Number.NaN,
    gain: Number.NaN,
    "surprise average": Number.NaN,
    "surprise sum": Number.NaN,
    "loss from peak": Number.NaN,
    "too-fast gain": Number.NaN,
  };
  const enoughOwn = w.count >= o.fewestOwn;
  const change = enoughOwn
    ? slopeChange(season.mixture, w.series, {
        lookBack: o.lookBackD,
        ...ownChange,
      })
    : null;
  if (change !== null) {
    statistics["slowed gain"] = shownEvidence(change.evidence);
    statistics["surprise average"] = -w.average / Math.sqrt(averageWeight / (2 - averageWeight));
    statistics["surprise sum"] = w.sum;
    statistics["loss from peak"] = w.lossFromPeak(o.peakDays, state.variation.noiseSd ** 2);
  }
  const beside = enoughOwn ? levelAndGain(works, w, recentGain, day, o) : null;
  if (beside !== null) {
    statistics.level = -beside.levelZ;
    statistics.gain = -beside.gainZ;
    statistics["too-fast gain"] = beside.gainZ;
  }
  return {
    animal,
    day,
    statistics,
    index: w.count - 1,
    ...reading,
    change,
    level: beside?.level ?? null,
    gain: beside?.gain ?? null,
    contemporaries: beside?.contemporaries ?? 0,
  };
}
