import { type Measured, measured, normal95, notDefined } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { dateOfNumber } from "../../units/calendar.js";
import type { ExpectedToday } from "../animal-day/flag.js";
import type { Expected, WatchState } from "./watched-day.js";

/** What `watchGroup` expected of one animal on one day, weighed or not. */
export interface FoundExpectation {
  readonly expected: Expected;
  readonly state: WatchState;
  /** Number of the feeding day of the newest weighing that it starts from. */
  readonly lastDay: number;
  /** The day's own weighing: ln mass and standardised surprise; null where it was not weighed. */
  readonly weighed: { readonly logMass: number; readonly surprise: number } | null;
}

/**
 * What one animal was expected to weigh and to gain on a day, given its group
 * and its own weighings before that day, and how far the day's weighing stands
 * from it. Nothing is expected in the arrival phase and in the fast, where what
 * the group gains says nothing about the animal.
 */
export function expectedToday(
  animalId: string,
  day: CivilDate,
  phase: string | null,
  found: FoundExpectation | null,
): ExpectedToday {
  const gain = found?.expected.gain ?? null;
  if (phase === "arrival" || phase === "post-weaning fast") {
    return nothing(notice("flag-expected-phase", "info", { animal: animalId, phase }));
  }
  if (found === null || gain === null) {
    return nothing(notice("flag-expected-unknown", "info", { animal: animalId, day }));
  }
  const { lastDay, weighed } = found;
  const { logMass, sd } = found.expected;
  const last = dateOfNumber(lastDay);
  const mass = between(Math.exp(logMass), "g", (z) => Math.exp(logMass + z * sd));
  const perDay = between(100 * gain.perDay, "%/d", (z) => 100 * (gain.perDay + z * gain.sd));
  const limits = {
    animal: animalId,
    day,
    last,
    mass: mass.value,
    low: mass.interval?.lower ?? null,
    high: mass.interval?.upper ?? null,
    gain: perDay.value,
    gainLow: perDay.interval?.lower ?? null,
    gainHigh: perDay.interval?.upper ?? null,
    step: 100 * found.state.variation.wander * Math.abs(gain.perDay),
  };
  return {
    mass,
    gain: { ...perDay, se: 100 * gain.sd },
    surprise:
      weighed === null
        ? notDefined("standard errors", notice("flag-not-weighed", "info", { ...limits }))
        : measured(weighed.surprise, "standard errors"),
    lastWeighedOn: last,
    sentence:
      weighed === null
        ? notice("flag-expected-unweighed", "info", limits)
        : notice("flag-expected", "info", {
            ...limits,
            own: Math.exp(weighed.logMass),
            surprise: weighed.surprise,
          }),
  };
}

function between(value: number, unit: string, at: (z: number) => number): Measured {
  return measured(value, unit, {
    interval: { lower: at(-normal95), upper: at(normal95), level: 0.95 },
  });
}

function nothing(why: Notice): ExpectedToday {
  return {
    mass: notDefined("g", why),
    gain: notDefined("%/d", why),
    surprise: notDefined("standard errors", why),
    lastWeighedOn: null,
    sentence: why,
  };
}
