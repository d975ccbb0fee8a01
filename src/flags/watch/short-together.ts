import { type Measured, measured } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { dateOfNumber } from "../../units/calendar.js";
import type { WatchedGroup } from "./watched-day.js";

/**
 * Evidence (on the scale of "slowed gain") from which all animals of a season are called
 * short together. Found in worlds made for tuning, for 2 healthy seasons named in 100
 * group-weeks; what held-out worlds give is in the bench "short-together".
 */
export const groupThreshold = 4;

/** All animals of a season gain less than was expected of them, from one day on. */
export interface ShortTogether {
  readonly day: CivilDate;
  readonly species: string;
  readonly season: string | null;
  /** Those weighed within a week. */
  readonly animals: readonly string[];
  /** The day from which it most likely began. */
  readonly since: CivilDate;
  /** Gain that is missing since then, % of body mass a day. */
  readonly missing: Measured;
  /** Evidence over its threshold: 1 and more is named. */
  readonly strength: number;
  readonly sentence: Notice;
}

/**
 * What a season's animals show together on one day, where it is to be named; null where
 * it is not. It is not named by one animal against the others: where all are fed too
 * little, each looks as usual beside them.
 */
export function shortTogether(
  species: string,
  group: WatchedGroup,
  idOf: (animal: number) => string,
): ShortTogether | null {
  const strength = group.evidence / groupThreshold;
  if (strength < 1) return null;
  const animals = group.animals.map(idOf);
  const [day, since] = [dateOfNumber(group.day), dateOfNumber(group.since)];
  const pct = 100 * group.missing;
  const half = 196 * group.se;
  const limits = { lower: pct - half, upper: pct + half };
  return {
    day,
    species,
    season: group.season === "" ? null : group.season,
    animals,
    since,
    missing: measured(pct, "%/d", {
      se: 100 * group.se,
      n: animals.length,
      interval: { ...limits, level: 0.95 },
    }),
    strength,
    sentence: notice("short-together", "problem", {
      species,
      season: group.season === "" ? null : group.season,
      n: animals.length,
      since,
      missing: pct,
      low: limits.lower,
      high: limits.upper,
    }),
  };
}
