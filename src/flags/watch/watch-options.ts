import type { WeakGain } from "../../reference/expectation-prior.js";
import type { PopulationSummary } from "../../reference/population-summary.js";
import type { Foreseen, UnweighedDay, WatchedGroup, WatchState } from "./watched-day.js";

/** What can be set of the watching of a group; the thresholds that ship go with the defaults. */
export interface WatchOptions {
  /** What other nurseries know of the species. Default: nothing. */
  readonly priors?: readonly PopulationSummary[];
  /** What is weakly believed of the species' gain. Default 1 % a day. */
  readonly weakGain?: WeakGain;
  /** A change of gain is looked for up to this many days back. Default 42. */
  readonly lookBackD?: number;
  /** Own weighed days from which on an animal is judged. Default 2: the first says what the next should be. */
  readonly fewestOwn?: number;
  /** Others for level and gain are near in age (days) or, where it is unreliable, mass. Default 14, 0.2. */
  readonly ageWithinD?: number;
  readonly massWithin?: number;
  /** Windows of the gain and of the loss from a peak, days. Default 7. */
  readonly gainDays?: number;
  readonly peakDays?: number;
  /** From this day on the expected gain of unweighed animals is worked out too. Default: on no day. */
  readonly expectFromDay?: number;
  /** Called, from that day on, for every animal weighed in the last 14 days but not that day. */
  readonly seeUnweighed?: (unweighed: UnweighedDay, state: WatchState) => void;
  /** Called, from that day on, once a day for each season in which two or more were weighed of late. */
  readonly seeGroup?: (group: WatchedGroup) => void;
  /** From this day on, an animal's first weighing also says what it was then on course for. */
  readonly foreseeFromDay?: number;
  /** Called once an animal, with every day from that weighing to the last day. */
  readonly seeForeseen?: (foreseen: Foreseen) => void;
}

/** The options with their defaults. */
export function watchSettings(options: WatchOptions) {
  return {
    priors: options.priors ?? [],
    weakGain: options.weakGain ?? { gain: 0.01 },
    lookBackD: options.lookBackD ?? 42,
    fewestOwn: options.fewestOwn ?? 2,
    ageWithinD: options.ageWithinD ?? 14,
    massWithin: options.massWithin ?? 0.2,
    gainDays: options.gainDays ?? 7,
    peakDays: options.peakDays ?? 7,
    expectFromDay: options.expectFromDay ?? Number.POSITIVE_INFINITY,
    foreseeFromDay: options.foreseeFromDay ?? Number.POSITIVE_INFINITY,
  };
}

export type WatchSettings = ReturnType<typeof watchSettings>;
