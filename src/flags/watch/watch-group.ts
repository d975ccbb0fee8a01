import { runSteps, type Steps } from "../../core/steps.js";
import { courseDaysOf, coursesFrom } from "./foreseen-courses.js";
import { RunningAnimal } from "./running-animal.js";
import {
  isGridDay,
  knownSoFar,
  markOf,
  marksThatAgree,
  recentMarksD,
  type SeenDay,
  standingOf,
  type WatchHistory,
  type WatchMark,
  withMarks,
} from "./watch-history.js";
import { type WatchOptions, type WatchSettings, watchSettings } from "./watch-options.js";
import { WatchSteps } from "./watch-steps.js";
import type { WatchedAnimal } from "./watched-animal.js";
import type { Foreseen, WatchedDay, WatchState } from "./watched-day.js";
import type { WatchedSeason } from "./watched-season.js";

export { averageWeight, sumAllowance } from "./running-animal.js";
export type { WatchOptions } from "./watch-options.js";
export type { WatchedAnimal } from "./watched-animal.js";
export {
  type Expected,
  type Foreseen,
  isJudged,
  type PerStatistic,
  type SuspectedChange,
  type UnweighedDay,
  type WatchedDay,
  type WatchedGroup,
  type WatchedStatistic,
  type WatchState,
  watchedStatistics,
} from "./watched-day.js";

/**
 * Watches a group of animals of one species day by day, from the first day of
 * record to `lastDay`. On each day it reads nothing later. What is expected of a
 * season's animals comes from the species, other nurseries, earlier seasons, the
 * season's group and the animal, in that order (`WatchedSeason`); a season begins
 * with the first weighing of one of its animals, and takes over what those before it
 * have shown by then. A day is one step: today's weighings are expected, compared,
 * and then taken in. `see` is called once per animal weighed and day, in order. Hands
 * back the seasons as they stand at the end.
 *
 * The main statistic, "slowed gain", grows with the Bayes factor of a gain that fell
 * short at some moment of the last `lookBackD` days (`slopeChange`). A weighing
 * more than 3.5 standard errors off is pulled in to 3.5 before it enters.
 */
export function watchGroup(
  animals: readonly WatchedAnimal[],
  lastDay: number,
  options: WatchOptions,
  see: (seen: WatchedDay, state: WatchState) => void,
  firstSeenDay = Number.NEGATIVE_INFINITY,
): readonly WatchedSeason[] {
  return runSteps(watchOn(null, animals, lastDay, options, see, firstSeenDay)).seasons;
}

/** What a watch hands back. */
export interface WatchedSoFar {
  readonly seasons: readonly WatchedSeason[];
  readonly history: WatchHistory | null;
  /** Last day up to which what was seen is as it stood in the history; -Infinity without one. */
  readonly knownUpTo: number;
}

/**
 * The same, going on from where an earlier watch stood: the steps that its history holds
 * are not taken again, and what is seen of them is handed over as it was. Nothing that
 * comes out depends on the history. Hands back the history to go on from next time;
 * `null` where none was handed in, `"begin"` makes the first. A step is a day.
 */
export function* watchOn(
  history: WatchHistory | "begin" | null,
  animals: readonly WatchedAnimal[],
  lastDay: number,
  options: WatchOptions,
  see: (seen: WatchedDay, state: WatchState) => void,
  firstSeenDay = Number.NEGATIVE_INFINITY,
): Steps<WatchedSoFar> {
  const o = watchSettings(options);
  const before = history === "begin" ? null : history;
  const firstDay = animals.reduce(
    (first, a) => (a.day.length > 0 ? Math.min(first, a.day[0]!) : first),
    Number.POSITIVE_INFINITY,
  );
  if (!(firstDay <= lastDay)) return { seasons: [], history: before, knownUpTo: lastDay };
  const settings = settingsKey(o);
  const agreeing = marksThatAgree(before, settings, animals);
  const courseDays = courseDaysOf(animals, o.foreseeFromDay, lastDay);
  const mark = markToGoOnFrom(agreeing, Math.max(firstDay, o.expectFromDay), courseDays, lastDay);
  const known = knownSoFar(before, settings, animals, lastDay);
  const fresh = { works: animals.map((a) => new RunningAnimal(a)), seasons: new Map() };
  const steps = new WatchSteps(mark === null ? fresh : standingOf(mark, animals), o, options);

  const placeOf = new Map(animals.map((a, i) => [a.id, i]));
  const hand = ({ id, seen, state }: SeenDay) => {
    const animal = placeOf.get(id)!;
    if (seen.day >= firstSeenDay) see(seen.animal === animal ? seen : { ...seen, animal }, state);
  };
  const startsAt = mark?.day ?? firstDay - 1;
  for (const [day, seen] of known.byDay) if (day <= startsAt) seen.forEach(hand);
  const foreseen: Foreseen[] = [];
  for (const [day, own] of courseDays)
    if (day <= startsAt)
      foreseen.push(...coursesFrom(agreeing.get(day)!.standing, animals, own, lastDay));

  const added: WatchMark[] = [];
  let sinceMark: SeenDay[] = [];
  for (let day = startsAt + 1; day <= lastDay; day++) {
    yield;
    steps.readDay(day);
    const seen =
      day <= known.upTo
        ? (known.byDay.get(day) ?? [])
        : day < firstSeenDay
          ? []
          : steps.judgeDay(day);
    const expecting = day >= o.expectFromDay;
    if (expecting && options.seeGroup !== undefined) steps.seeGroups(day, options.seeGroup);
    seen.forEach(hand);
    if (expecting) steps.expectUnweighed(day);
    const own = courseDays.get(day);
    if (own !== undefined) foreseen.push(...coursesFrom(steps, animals, own, lastDay));
    if (history === null) continue;
    sinceMark.push(...seen);
    const marked = isGridDay(day) || day > lastDay - recentMarksD || day === o.expectFromDay - 1;
    if (!marked || agreeing.has(day)) continue;
    added.push(markOf(day, steps, sinceMark, added.at(-1) ?? mark));
    sinceMark = [];
  }
  if (options.seeForeseen !== undefined) foreseen.forEach(options.seeForeseen);
  return {
    seasons: [...steps.seasons.values()],
    history: history === null ? null : withMarks(before, settings, added),
    knownUpTo: known.upTo,
  };
}

const settingsKey = (o: WatchSettings) =>
  JSON.stringify({ ...o, expectFromDay: null, foreseeFromDay: null });

/**
 * The newest mark before the days that are stepped through again: those from which something
 * is expected of the unweighed, and those of a course of which no mark tells.
 */
function markToGoOnFrom(
  agreeing: ReadonlyMap<number, WatchMark>,
  fromDay: number,
  courseDays: ReadonlyMap<number, unknown>,
  lastDay: number,
): WatchMark | null {
  let before = Math.min(lastDay + 1, fromDay);
  for (const day of courseDays.keys()) if (!agreeing.has(day)) before = Math.min(before, day);
  let found: WatchMark | null = null;
  for (const mark of agreeing.values())
    if (mark.day < before && mark.day > (found?.day ?? Number.NEGATIVE_INFINITY)) found = mark;
  return found;
}
