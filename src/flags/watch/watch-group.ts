import { type GroupFit, newSums } from "../../stats/state-space/group-fit.js";
import { levelAndGain, recentDays } from "./among-contemporaries.js";
import { expectedAt } from "./expected-at.js";
import { refitGroup, startParameters } from "./group-parameters.js";
import {
  estimateMeanGain,
  type MeanGainEstimate,
  type MeanGainKnots,
  meanGainAt,
  meanGainKnots,
} from "./mean-gain-curve.js";
import { averageWeight, RunningAnimal } from "./running-animal.js";
import { slowingScan } from "./scan-for-slowing.js";
import { todaysSurprise } from "./todays-surprise.js";
import { type WatchOptions, watchSettings } from "./watch-options.js";
import type { WatchedAnimal } from "./watched-animal.js";
import type { WatchedDay, WatchedStatistic, WatchState } from "./watched-day.js";
import { widening } from "./widening.js";

export { averageWeight, sumAllowance } from "./running-animal.js";
export type { WatchOptions } from "./watch-options.js";
export type { WatchedAnimal } from "./watched-animal.js";
export {
  type Expected,
  isJudged,
  type PerStatistic,
  type SuspectedChange,
  type UnweighedDay,
  type WatchedDay,
  type WatchedStatistic,
  type WatchState,
  watchedStatistics,
} from "./watched-day.js";

/** An animal last weighed longer ago is expected nothing of. */
const expectWithinD = 14;

/**
 * Watches a group of animals of one species day by day, from the first day of
 * record to `lastDay`. On each day it reads nothing later: it (re)estimates what
 * the group has in common, and for every animal weighed that day computes the
 * statistics that can raise a flag. `see` is called once per animal and day, in
 * order of day and animal.
 *
 * The main statistic, "slowed gain", is the log likelihood ratio of a gain that
 * fell by `shortfall` at the worst moment of the last `lookBackD` days, against
 * the animal's own earlier gain and the group's curve, both with their errors
 * (a generalised least squares test over the whole group). A weighing more than
 * 3.5 standard errors off is pulled in to 3.5 before it enters.
 */
export function watchGroup(
  animals: readonly WatchedAnimal[],
  lastDay: number,
  options: WatchOptions,
  see: (seen: WatchedDay, state: WatchState) => void,
  firstSeenDay = Number.NEGATIVE_INFINITY,
): void {
  const o = watchSettings(options);
  const firstDay = animals.reduce(
    (first, a) => (a.day.length > 0 ? Math.min(first, a.day[0]!) : first),
    Number.POSITIVE_INFINITY,
  );
  if (!(firstDay <= lastDay)) return;
  const works = animals.map((a) => new RunningAnimal(a));
  const scan = slowingScan(Math.max(1, ...animals.map((a) => a.time.length)));
  let parameters = startParameters;
  let fit: GroupFit | null = null;
  let lastFitDay = Number.NEGATIVE_INFINITY;

  for (let day = firstDay; day <= lastDay; day++) {
    let anyToday = false;
    for (const w of works) {
      w.advance(day);
      if (w.count > 0 && w.today) anyToday = true;
    }
    const expecting = day >= o.expectFromDay;
    if (!anyToday && !expecting) continue;
    const knots = knotsSoFar(works);
    const { width } = knots;
    const { precision } = knots.basis;
    for (const w of works) w.place(knots);
    if (anyToday && day - lastFitDay >= o.refitEvery) {
      const again = refitGroup(works, knots, parameters);
      if (again !== null) {
        fit = again;
        parameters = again.parameters;
        lastFitDay = day;
      }
    }
    // What all serving values say together, and each animal's own part.
    const all = newSums(width);
    for (const w of works) w.filter(parameters, width, all);
    const common = estimateMeanGain(all, precision);
    if (common === null) continue;
    const expectedGain = (time: number) => meanGainAt(common.gains, knots.from, time);
    const size = works.filter((w) => w.count >= 2).length;
    const state: WatchState = { parameters, fit, expectedGain, animals: size };
    const recentGain = works.map((w) =>
      w.count > 0 && day - w.lastDay <= recentDays ? w.windowGain(o.gainDays) : Number.NaN,
    );
    for (let i = 0; i < works.length; i++) {
      const w = works[i]!;
      const sinceD = day - w.lastDay;
      const unweighed = expecting && !w.today && w.count > 0 && sinceD <= expectWithinD;
      if (!w.today && !unweighed) continue;
      // The group without this animal's serving values, plus all its own.
      const mean = estimateMeanGain(all, precision, w);
      if (mean === null) continue;
      if (w.today) {
        const seen = judge(i, knots, mean, state, recentGain, day);
        if (day >= firstSeenDay) see(seen, state);
      } else {
        const time = w.lastTime + sinceD;
        const expected = expectedAt(w, w.count, time, knots, mean, parameters, null);
        options.seeUnweighed?.({ animal: i, day, index: w.count - 1, sinceD, expected }, state);
      }
    }
  }

  function judge(
    animal: number,
    knots: MeanGainKnots,
    mean: MeanGainEstimate,
    state: WatchState,
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
    const today = todaysSurprise(
      w,
      mean,
      day < o.expectFromDay
        ? null
        : (left) =>
            expectedAt(w, w.count - 1, w.lastTime, knots, mean, state.parameters, left).gain,
    );
    const enoughOwn = w.count >= o.fewestOwn;
    let change: WatchedDay["change"] = null;
    if (enoughOwn && state.animals >= o.fewestAnimals) {
      const { parameters: p } = state;
      const slowing = scan(w, mean, state.expectedGain, o);
      const wide = widening(p, state.animals, w.meanKnownVariance());
      change = slowing.change;
      statistics["slowed gain"] = slowing.ratio / wide;
      statistics["surprise average"] =
        -w.average / Math.sqrt((wide * averageWeight) / (2 - averageWeight));
      statistics["surprise sum"] = w.sum / Math.sqrt(wide);
      statistics["loss from peak"] = w.lossFromPeak(o.peakDays, p.noiseSd ** 2);
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
      ...today,
      change,
      level: beside?.level ?? null,
      gain: beside?.gain ?? null,
      contemporaries: beside?.contemporaries ?? 0,
    };
  }
}

/** Knots only over the ages seen so far: the others wait for their data. */
function knotsSoFar(works: readonly RunningAnimal[]) {
  let youngest = Number.POSITIVE_INFINITY;
  let oldest = Number.NEGATIVE_INFINITY;
  for (const w of works) {
    if (w.count === 0) continue;
    youngest = Math.min(youngest, w.time[0]!);
    oldest = Math.max(oldest, w.lastTime);
  }
  return meanGainKnots(youngest, oldest);
}
