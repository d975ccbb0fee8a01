import type { UnweighedDay, WatchState } from "./watched-day.js";

/** What can be set of the watching of a group; the thresholds that ship go with the defaults. */
export interface WatchOptions {
  /** Parameters are estimated again after this many days. Default 5. */
  readonly refitEvery?: number;
  /** A change of gain is looked for up to this many days back. Default 42. */
  readonly lookBackD?: number;
  /** The share of the expected gain that is suspected to be missing. Default 0.5. */
  readonly shortfall?: number;
  /** Fewest own weighed days before an animal is judged. Default 4. */
  readonly fewestOwn?: number;
  /** Fewest animals of the group, itself included, before one is judged. Default 1. */
  readonly fewestAnimals?: number;
  /** Others for level and gain are near in age (days) or, where it is unreliable, mass. Default 14, 0.2. */
  readonly ageWithinD?: number;
  readonly massWithin?: number;
  /** Windows of the gain and of the loss from a peak, days. Default 7. */
  readonly gainDays?: number;
  readonly peakDays?: number;
  /** From this day on the expected gain is worked out too. Default: on no day. */
  readonly expectFromDay?: number;
  /** Called, from that day on, for every animal weighed in the last 14 days but not that day. */
  readonly seeUnweighed?: (unweighed: UnweighedDay, state: WatchState) => void;
}

/** The options with their defaults. */
export function watchSettings(options: WatchOptions) {
  return {
    refitEvery: options.refitEvery ?? 5,
    lookBackD: options.lookBackD ?? 42,
    shortfall: options.shortfall ?? 0.5,
    fewestOwn: options.fewestOwn ?? 4,
    fewestAnimals: options.fewestAnimals ?? 1,
    ageWithinD: options.ageWithinD ?? 14,
    massWithin: options.massWithin ?? 0.2,
    gainDays: options.gainDays ?? 7,
    peakDays: options.peakDays ?? 7,
    expectFromDay: options.expectFromDay ?? Number.POSITIVE_INFINITY,
  };
}
