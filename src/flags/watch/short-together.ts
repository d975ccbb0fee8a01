import { type Measured, measured, normal95 } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import { dateOfNumber } from "../../units/calendar.js";
import type { WatchedGroup } from "./watched-day.js";

/**
 * Evidence (on the scale of "slowed gain") from which all animals of a season are called
 * short together: since one day of it, and from its first day on. Found in the world for
 * calibrating (10 animals knowing nothing, two seasons or prior files, 4 with files) for 2
 * healthy seasons named in 100 group-weeks by both, about half by each; what held-out
 * worlds give is in the bench "short-together".
 */
export const groupThresholds = { sinceADay: 4.4, fromTheFirst: 3.6 } as const;

/** All animals of a season gain less than was expected of them, from one day on. */
export interface ShortTogether {
  readonly day: CivilDate;
  readonly species: string;
  readonly season: string | null;
  /** Those weighed within a week. */
  readonly animals: readonly string[];
  /** The day from which it most likely began: one of the season's, or its first. */
  readonly since: CivilDate;
  readonly from: "a day on" | "the first day on";
  /** Gain that is missing since then, % of body mass a day. */
  readonly missing: Measured;
  /** Evidence over its threshold: 1 and more is named. */
  readonly strength: number;
  readonly sentence: Notice;
}

/**
 * What a season's animals show together on one day, where it is to be named: that they are
 * short since a day, held against their own earlier weeks, or from the season's first day
 * on, held against what nurseries and earlier seasons led to expect; the stronger where
 * both are. It is not named by one animal against the others: where all are fed too little,
 * each looks as usual beside them.
 */
export function shortTogether(
  species: string,
  group: WatchedGroup,
  idOf: (animal: number) => string,
): ShortTogether | null {
  const sinceADay = group.evidence / groupThresholds.sinceADay;
  const fromTheFirst = (group.fromTheFirst?.evidence ?? 0) / groupThresholds.fromTheFirst;
  const strength = Math.max(sinceADay, fromTheFirst);
  if (strength < 1) return null;
  const first = fromTheFirst > sinceADay;
  const told = first ? group.fromTheFirst! : group;
  const animals = group.animals.map(idOf);
  const [day, since] = [dateOfNumber(group.day), dateOfNumber(told.since)];
  const pct = 100 * told.missing;
  const half = 100 * normal95 * told.se;
  const limits = { lower: pct - half, upper: pct + half };
  return {
    day,
    species,
    season: group.season === "" ? null : group.season,
    animals,
    since,
    from: first ? "the first day on" : "a day on",
    missing: measured(pct, "%/d", {
      se: 100 * told.se,
      n: animals.length,
      interval: { ...limits, level: 0.95 },
    }),
    strength,
    sentence: notice(first ? "short-from-the-first" : "short-together", "problem", {
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
