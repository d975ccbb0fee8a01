import { slopeChange } from "../../stats/state-space/slope-change.js";
import { levelAndGain, recentDays } from "./among-contemporaries.js";
import { averageWeight, RunningAnimal } from "./running-animal.js";
import {
  markEveryD,
  markOf,
  markToGoOnFrom,
  type SeenDay,
  seenUpTo,
  standingOf,
  type WatchHistory,
  type WatchMark,
  withMarks,
} from "./watch-history.js";
import { type WatchOptions, watchSettings } from "./watch-options.js";
import type { WatchedAnimal } from "./watched-animal.js";
import type { WatchedDay, WatchedGroup, WatchedStatistic, WatchState } from "./watched-day.js";
import { type ReadWeighing, WatchedSeason } from "./watched-season.js";

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

/** A season's animals weighed within so many days are its group. */
const groupWithinD = 7;

/** An animal last weighed longer ago is expected nothing of. */
const expectWithinD = 14;

/** One weighing gives a mass to start from; the second says that it stands. */
const fewestForeseen = 2;

/**
 * Shares of the expected gain that may be missing in a change, before anything is
 * seen: from a fifth less, over none at all, to a fall.
 */
const missingShares = [
  { share: 0.2, weight: 0.2 },
  { share: 0.5, weight: 0.4 },
  { share: 1, weight: 0.25 },
  { share: 2.5, weight: 0.1 },
  { share: 5, weight: 0.05 },
];

/**
 * The evidence shown is log(1 + 10 x Bayes factor): near 0 without any, never negative, so
 * that a share of its threshold means something and an episode closes when it has faded.
 */
const evidenceScale = 10;

/** Mean gain below which it is not taken, so that a change stays visible. */
const leastGain = 0.002;

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
  return watchOn(null, animals, lastDay, options, see, firstSeenDay).seasons;
}

/**
 * The same, going on from where an earlier watch stood: the steps that its history holds
 * are not taken again, and what is seen of them is handed over as it was. Nothing that
 * comes out depends on the history. Hands back the history to go on from next time;
 * `null` where none was handed in, `"begin"` makes the first.
 */
export function watchOn(
  history: WatchHistory | "begin" | null,
  animals: readonly WatchedAnimal[],
  lastDay: number,
  options: WatchOptions,
  see: (seen: WatchedDay, state: WatchState) => void,
  firstSeenDay = Number.NEGATIVE_INFINITY,
): { readonly seasons: readonly WatchedSeason[]; readonly history: WatchHistory | null } {
  const o = watchSettings(options);
  const known = history === "begin" ? null : history;
  const settings = JSON.stringify({ ...o, expectFromDay: null, foreseeFromDay: null });
  const firstDay = animals.reduce(
    (first, a) => (a.day.length > 0 ? Math.min(first, a.day[0]!) : first),
    Number.POSITIVE_INFINITY,
  );
  if (!(firstDay <= lastDay)) return { seasons: [], history: known };
  // Days from which something is expected of the unweighed, or foreseen, are stepped through again.
  const again = Math.min(o.expectFromDay, o.foreseeFromDay);
  const beforeDay = Math.min(lastDay + 1, Math.max(firstDay, again));
  const mark = markToGoOnFrom(known, settings, animals, beforeDay);
  const standing = mark === null ? null : standingOf(mark, animals);
  const works = standing?.works ?? animals.map((a) => new RunningAnimal(a));
  const seasons = new Map(standing?.seasons);
  const seasonOf = new Map<RunningAnimal, WatchedSeason>();
  const foreseen = new Set<RunningAnimal>();
  for (const season of seasons.values()) for (const w of season.works) seasonOf.set(w, season);
  const placeOf = new Map(animals.map((a, i) => [a.id, i]));
  if (mark !== null)
    for (const { id, seen, state } of seenUpTo(mark))
      see({ ...seen, animal: placeOf.get(id)! }, state);

  const added: WatchMark[] = [];
  let sinceMark: SeenDay[] = [];
  for (let day = mark === null ? firstDay : mark.day + 1; day <= lastDay; day++) {
    stepThrough(day);
    const marked = day % markEveryD === 0 || day === lastDay || day === o.expectFromDay - 1;
    if (history === null || !marked) continue;
    added.push(markOf(day, { works, seasons }, sinceMark, added.at(-1) ?? mark));
    sinceMark = [];
  }
  return {
    seasons: [...seasons.values()],
    history: history === null ? null : withMarks(known, settings, added),
  };

  function stepThrough(day: number): void {
    for (const w of works) {
      w.advance(day);
      endRecord(w, day);
    }
    // Every day, weighed or not: the steps hang on the records alone, not on what is asked.
    for (const season of seasons.values()) season.mixture.settle();
    const expecting = day >= o.expectFromDay;
    if (!expecting && !works.some((w) => w.today)) return;
    beginSeasons();
    const readings = new Map<RunningAnimal, ReadWeighing>();
    for (const season of seasons.values()) {
      const weighed = season.works.filter((w) => w.today);
      const expected = weighed.map((w) => season.expect(w));
      weighed.forEach((w, i) => {
        readings.set(w, season.read(w, expected[i]!.expected, expected[i]!.scale));
      });
      season.mixture.settle();
    }
    if (expecting && options.seeGroup !== undefined) seeGroups(day, options.seeGroup);
    const states = new Map<WatchedSeason, WatchState>();
    const stateOf = (season: WatchedSeason) => {
      const state = states.get(season) ?? season.state();
      states.set(season, state);
      return state;
    };
    const recentGain = works.map((w) =>
      w.count > 0 && day - w.lastDay <= recentDays ? w.windowGain(o.gainDays) : Number.NaN,
    );
    works.forEach((w, i) => {
      const season = seasonOf.get(w);
      if (season === undefined) return;
      const reading = readings.get(w);
      if (reading !== undefined) {
        foresee(i, season, day);
        if (day < firstSeenDay) return;
        const state = stateOf(season);
        const seen = judge(i, season, state, reading, recentGain, day);
        if (history !== null) sinceMark.push({ id: w.source.id, seen, state });
        see(seen, state);
        return;
      }
      const sinceD = day - w.lastDay;
      if (!expecting || w.series.state === null || sinceD > expectWithinD) return;
      const expected = season.expectedAt(w, w.lastTime + sinceD, 0);
      options.seeUnweighed?.(
        { animal: i, day, index: w.count - 1, sinceD, expected },
        stateOf(season),
      );
    });
  }

  /** What each season's animals show together, where two or more were weighed within a week. */
  function seeGroups(day: number, seeGroup: (group: WatchedGroup) => void): void {
    for (const [season, own] of seasons) {
      const inCare = own.works.filter((w) => day - w.lastDay < groupWithinD && w.series.count >= 2);
      if (inCare.length < 2) continue;
      const change = own.commonChange();
      if (change === null) continue;
      seeGroup({
        season,
        day,
        animals: inCare.map((w) => works.indexOf(w)),
        evidence: Math.log1p(evidenceScale * Math.exp(change.evidence)),
        since: Math.ceil(change.since),
        missing: change.missing,
        se: change.se,
      });
    }
  }

  /** From its first weighing of the stretch on: later ones must not bend what it was on course for. */
  function foresee(animal: number, season: WatchedSeason, day: number): void {
    const w = works[animal]!;
    if (day < o.foreseeFromDay || foreseen.has(w) || w.count < fewestForeseen) return;
    foreseen.add(w);
    const times = Array.from({ length: lastDay - day + 1 }, (_, k) => w.lastTime + k);
    const days = season.weighingsAhead(w, times);
    options.seeForeseen?.({ animal, day, days });
  }

  /** Seasons that begin today, each told what those before it have shown. */
  function beginSeasons(): void {
    const earlier = [...seasons.values()];
    for (const w of works) {
      if (!w.today || seasonOf.has(w)) continue;
      const key = w.source.season ?? "";
      let season = seasons.get(key);
      if (season === undefined) {
        const summaries = earlier.map((s) => s.summary());
        season = WatchedSeason.begun(o.weakGain, o.priors, summaries);
        seasons.set(key, season);
      }
      season.works.push(w);
      seasonOf.set(w, season);
    }
  }

  /** Once a record has ended, what followed says which of its values serve the others. */
  function endRecord(w: RunningAnimal, day: number): void {
    const { ended } = w.source;
    if (ended == null || day <= ended.day || w.serves === ended.serves) return;
    w.serves = ended.serves;
    if (w.series.count === 0) return;
    const serves = Array.from(ended.serves.subarray(0, w.series.count), (v) => v !== 0);
    if (serves.some((v, j) => v !== w.series.serves[j]))
      seasonOf.get(w)!.mixture.serveInstead(w.series, serves);
    // One that was weighed after it left is still to be read.
    if (!w.today && w.count === w.source.time.length) w.series.close();
  }

  function judge(
    animal: number,
    season: WatchedSeason,
    state: WatchState,
    reading: ReadWeighing,
    recentGain: readonly number[],
    day: number,
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
          missing: missingShares,
          leastSlope: leastGain,
        })
      : null;
    if (change !== null) {
      statistics["slowed gain"] = Math.log1p(evidenceScale * Math.exp(change.evidence));
      statistics["surprise average"] = -w.average / Math.sqrt(averageWeight / (2 - averageWeight));
      statistics["surprise sum"] = w.sum;
      statistics["loss from peak"] = w.lossFromPeak(o.peakDays, state.variation.noiseSd ** 2);
    }
    const beside = enoughOwn ? levelAndGain(works, animal, recentGain, day, o) : null;
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
}
