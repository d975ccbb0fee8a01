import type { Borrowed } from "../../reference/expectation-prior.js";
import type { WanderingParameters } from "../../stats/state-space/wandering-slope.js";

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

/** One of something for each watched statistic, by its name. */
export type PerStatistic<T = number> = Readonly<Record<WatchedStatistic, T>>;

export function perStatistic<T>(of: (kind: WatchedStatistic) => T): PerStatistic<T> {
  return {
    "slowed gain": of("slowed gain"),
    level: of("level"),
    gain: of("gain"),
    "surprise average": of("surprise average"),
    "surprise sum": of("surprise sum"),
    "loss from peak": of("loss from peak"),
    "too-fast gain": of("too-fast gain"),
  };
}

/** Whether any statistic was judged on that day. */
export function isJudged(statistics: PerStatistic): boolean {
  return watchedStatistics.some((kind) => !Number.isNaN(statistics[kind]));
}

/** What is known of one animal at the end of one day, from data up to that day only. */
export interface WatchedDay {
  readonly animal: number;
  readonly day: number;
  /** NaN where not judged. */
  readonly statistics: PerStatistic;
  /** Index of the day's value in the animal's arrays. */
  readonly index: number;
  /** Standardised surprise of the day's weighing, before it was tamed. */
  readonly surprise: number;
  /** What the weighing was expected to be (today's own known error included). */
  readonly expected: Expected | null;
  /** The most likely start of a slowdown: index of the value, share missing and its error. */
  readonly change: SuspectedChange | null;
  /** ln mass of the day and the centre of the contemporaries, brought to its age. */
  readonly level: AmongContemporaries | null;
  /** Relative gain per day over the window, and the centre of the contemporaries. */
  readonly gain: AmongContemporaries | null;
  /** Contemporaries found for level and gain. */
  readonly contemporaries: number;
}

/** What was expected of one animal, given the group and its own earlier weighings. */
export interface Expected {
  /** Mean and standard deviation of ln mass of a weighing. */
  readonly logMass: number;
  readonly sd: number;
  /**
   * Relative gain per day, the animal's own slope and the group's: mean and standard deviation,
   * without the random steps from one day to the next. Null where it was not asked for.
   */
  readonly gain: { readonly perDay: number; readonly sd: number } | null;
}

/** An animal not weighed on a day, and what it would weigh and gain. */
export interface UnweighedDay {
  readonly animal: number;
  readonly day: number;
  /** Index of its last value, and how many days old that is. */
  readonly index: number;
  readonly sinceD: number;
  readonly expected: Expected;
}

/**
 * What an animal was on course for on one day, as seen from there: a weighing of
 * every later day, given the group and its own weighings up to that day.
 */
export interface Foreseen {
  readonly animal: number;
  /** The day it is seen from; `days[k]` is expected of the day k days later. */
  readonly day: number;
  readonly days: readonly Pick<Expected, "logMass" | "sd">[];
}

/** What a season's animals show together on one day. */
export interface WatchedGroup {
  readonly season: string;
  readonly day: number;
  /** Animals weighed within a week. */
  readonly animals: readonly number[];
  /** Evidence that all gain less from one day on, on the scale of "slowed gain". */
  readonly evidence: number;
  /** Number of that day; the gain a day that all are missing since then, and its error. */
  readonly since: number;
  readonly missing: number;
  readonly se: number;
  /**
   * The same of all of the season, held against what nurseries and earlier seasons led to
   * expect of it; null where neither is known.
   */
  readonly fromTheFirst: {
    readonly since: number;
    readonly evidence: number;
    readonly missing: number;
    readonly se: number;
  } | null;
}

/** An animal's own value beside the centre of `n` contemporaries, `earlier` of earlier seasons. */
export interface AmongContemporaries {
  readonly own: number;
  readonly centre: number;
  readonly n: number;
  readonly earlier: number;
}

export interface SuspectedChange {
  readonly index: number;
  /** Gain that is missing since then, a day as a share of mass, and its standard error. */
  readonly missing: number;
  readonly se: number;
  /** Indices between which the change lies with 90 % probability, all days equally likely before. */
  readonly earliest: number;
  readonly latest: number;
}

/** What the group has in common, as believed on one day. */
export interface WatchState {
  /** How much weighings and gain vary: averages over what is believed. */
  readonly variation: WanderingParameters;
  /** Expected relative gain per day (slope of ln mass) at a time. */
  readonly expectedGain: (time: number) => number;
  /** Animals of the season with at least two values so far: the size of the group. */
  readonly animals: number;
  /** What was borrowed from other nurseries and earlier seasons. */
  readonly borrowed: Borrowed;
}
