import {
  closedEpisode,
  defaultEpisodeRule,
  nextEpisodeState,
} from "../../../src/flags/animal-day/episode-rule.js";
import {
  type FlagCalibration,
  thresholdsFor,
} from "../../../src/flags/budget/false-flag-budget.js";
import { type HealthyRun, strongest } from "../../../src/flags/budget/thresholds-for-budget.js";
import { daysJudged, judgementStandsD } from "../../../src/flags/watch/judged-days.js";
import { rehydrationVariance } from "../../../src/flags/watch/rehydration.js";
import { type WatchOptions, watchGroup } from "../../../src/flags/watch/watch-group.js";
import type { WatchedAnimal } from "../../../src/flags/watch/watched-animal.js";
import { isJudged, type PerStatistic, perStatistic } from "../../../src/flags/watch/watched-day.js";
import type { WorldAnimal } from "./world.js";

/** One animal of the season looked at, as it was judged day by day. */
export interface WorldRun extends HealthyRun {
  /** Day numbers of the judged days, the day of arrival, and the first day its gain was short. */
  readonly days: readonly number[];
  readonly arrival: number;
  readonly shortFrom: number | null;
  /** Days in care after the third. */
  readonly inCare: number;
  readonly group: number;
  readonly first: boolean;
}

/**
 * Watches a nursery from its first day to its last: what `watchGroup` says of every
 * animal of the last season. The arrival phase is left out as the library leaves it
 * out: until the median of three weighings regains the mass of arrival, at most day 7.
 */
export function watchNursery(
  nursery: readonly WorldAnimal[],
  options: WatchOptions = {},
  waitD = Number.POSITIVE_INFINITY,
): WorldRun[] {
  const last = Math.max(...nursery.map((a) => a.season));
  const animals = nursery.map(watchedOf);
  const onset = nursery.find((a) => a.shortFrom !== null)?.shortFrom ?? Number.POSITIVE_INFINITY;
  const end = Math.max(...animals.map((a) => a.day.at(-1) ?? 0));
  const lastDay = Math.min(end, onset + waitD);
  const seen = nursery.map(() => ({ days: [] as number[], stats: [] as PerStatistic[] }));
  watchGroup(
    animals,
    lastDay,
    options,
    ({ animal, day, statistics }) => {
      if (nursery[animal]!.season !== last) return;
      if (!isJudged(statistics)) return;
      seen[animal]!.days.push(day);
      seen[animal]!.stats.push(statistics);
    },
    last * 365,
  );
  const group = nursery.filter((a) => a.season === last).length;
  const firstThree = new Set(
    nursery
      .filter((a) => a.season === last)
      .sort((a, b) => a.arrival - b.arrival)
      .slice(0, 3)
      .map((a) => a.id),
  );
  return nursery.flatMap((a, i) => {
    if (a.season !== last) return [];
    const { days, stats } = seen[i]!;
    return [
      {
        days,
        statistics: perStatistic((kind) => Float64Array.from(stats, (row) => row[kind])),
        arrival: a.arrival,
        shortFrom: a.shortFrom,
        judgedDays: daysJudged(days, a.day.at(-1) ?? a.arrival),
        inCare: (a.day.at(-1) ?? a.arrival) - a.arrival - 2,
        group,
        first: firstThree.has(a.id),
      },
    ];
  });
}

/** Days on which an animal is judged by the rule alone: from the second weighing of its watch on. */
export function daysJudgedByRule(a: WorldAnimal): number {
  return daysJudged(watchedOf(a).day.slice(1), a.day.at(-1) ?? a.arrival);
}

/** Days in care on which an episode was open, those between weighings counted. */
export function openDays(run: WorldRun, strength: ArrayLike<number>): number {
  let state = closedEpisode;
  let sum = 0;
  run.days.forEach((day, i) => {
    state = nextEpisodeState(state, strength[i]!);
    const next = run.days[i + 1] ?? day + 1;
    if (state.open) sum += Math.min(1 + judgementStandsD, next - day);
  });
  return sum;
}

/** Day by day strength of a run: the largest statistic over its threshold. */
export function strengths(run: WorldRun, calibration: FlagCalibration, asked: number) {
  return strongest(run, thresholdsFor(calibration, asked, run.group));
}

/** Days from the first short day to the first opening after it; Infinity where there was none. */
export function daysToFlag(
  run: Pick<WorldRun, "days" | "shortFrom">,
  strength: ArrayLike<number>,
  scale: number,
): number {
  let open = false;
  let below = 0;
  for (let i = 0; i < run.days.length; i++) {
    const s = strength[i]! / scale;
    if (!open && s >= 1) {
      if (run.days[i]! >= run.shortFrom!) return run.days[i]! - run.shortFrom!;
      open = true;
      below = 0;
    } else if (open) {
      below = s < defaultEpisodeRule.lower ? below + 1 : 0;
      if (below >= defaultEpisodeRule.daysBelow) open = false;
    }
  }
  return Number.POSITIVE_INFINITY;
}

/** A nursery's animal as plain numbers for the watch, the arrival phase left out. */
export function watchedOf(a: WorldAnimal): WatchedAnimal {
  let from = a.day.findIndex((d) => d - a.arrival >= 7);
  if (from < 0) from = a.day.length;
  for (let j = 2; j < a.day.length && a.day[j]! - a.arrival < 7; j++) {
    const middle = [a.logMass[j]!, a.logMass[j - 1]!, a.logMass[j - 2]!].sort((x, y) => x - y)[1]!;
    if (middle >= a.logMass[0]!) {
      from = j;
      break;
    }
  }
  const day = Int32Array.from(a.day.slice(from));
  return {
    id: a.id,
    season: String(a.season),
    time: Float64Array.from(a.age.slice(from)),
    day,
    logMass: Float64Array.from(a.logMass.slice(from)),
    knownVariance: Float64Array.from(day, (_, j) => rehydrationVariance(j)),
    serves: new Uint8Array(day.length).fill(1),
    ended: { day: day.at(-1) ?? a.arrival, serves: new Uint8Array(day.length).fill(1) },
  } as WatchedAnimal;
}
