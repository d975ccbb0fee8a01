import { runSteps } from "../../core/steps.js";
import type { WeighedNormal } from "../../stats/distributions/normal-mixture.js";
import { slopeAt } from "../../stats/state-space/hat-slopes.js";
import type { PathPart } from "../../stats/state-space/path-ahead.js";
import { ownChange } from "./own-change.js";
import type { RunningAnimal } from "./running-animal.js";
import { watchOn } from "./watch-group.js";
import type { WatchHistory } from "./watch-history.js";
import { watchSettings } from "./watch-options.js";
import type { WatchedSpecies } from "./watch-study.js";
import type { WatchedSeason } from "./watched-season.js";

/**
 * Chance that the gain of an animal that is looked at fell short within the look-back,
 * before its weighings are: chosen on the world for calibrating (decision 17).
 */
export const chanceOfChange = 0.2;
const change = { lookBack: watchSettings({}).lookBackD, ...ownChange };

/** What one animal is on course for from its last weighing on, as the watch expects it. */
export interface CourseAhead {
  readonly animalId: string;
  /** Weighings it rests on (after the arrival phase), and when the last one was. */
  readonly weighings: number;
  /** Age in days (placed where it is unknown): the axis of `times` below. */
  readonly lastTime: number;
  readonly lastDay: number;
  /** ln of the mass itself at each of these times: without gut fill, without error. */
  readonly mass: (times: readonly number[]) => readonly (readonly WeighedNormal[])[];
  /** ln of what a weighing in the usual condition would show. */
  readonly weighing: (times: readonly number[]) => readonly (readonly WeighedNormal[])[];
  /**
   * The same where its gain may have fallen short of late, on the chance that `slopeChange`
   * sees: it goes on so, or gains from its last weighing on as any other of its group.
   */
  readonly after: (slope: "own" | "mean", of: "level" | "value") => CourseAhead["mass"];
  /** Relative gain per day that its group is expected to have at a time. */
  readonly groupGain: (time: number) => number;
  /** Scatter of a weighing about the mass itself, as a share of it. */
  readonly scatter: number;
  /** Animals of its group beside it, and of other nurseries and earlier seasons before them. */
  readonly others: number;
  readonly before: number;
}

/**
 * The courses of a species' animals as seen from the end of each of these days (rising):
 * the watch is run to each day, and from there without weighings. Left out are animals
 * without a weighing after the arrival phase, and those whose record had ended.
 *
 * @example coursesAhead(watchedSpecies(study)[0]!, [19_500])[0]!.get("P07")?.weighings // 23
 */
export function coursesAhead(
  species: WatchedSpecies,
  days: readonly number[],
): readonly ReadonlyMap<string, CourseAhead>[] {
  const { animals, weakGain, priors } = species;
  let history: WatchHistory | "begin" = "begin";
  return days.map((day) => {
    const found = runSteps(
      watchOn(history, animals, day, { weakGain, priors }, () => {}, Infinity),
    );
    history = found.history ?? history;
    return new Map(
      found.seasons.flatMap((season) =>
        season.works
          .filter((w) => w.series.state !== null && !w.isEarlier(day))
          .map((w) => [w.source.id, courseOf(season, w)] as const),
      ),
    );
  });
}

function courseOf(season: WatchedSeason, w: RunningAnimal): CourseAhead {
  season.mixture.settle();
  const { slopes, prior } = season.mixture;
  const { borrowed } = season;
  const state = season.state();
  const groupSlopes = slopes.slice();
  const along =
    (pathOf: (times: readonly number[]) => readonly PathPart[]) => (times: readonly number[]) => {
      // Steps are at most a day, so that gain may change on the way.
      const all: number[] = [];
      const wanted: number[] = [];
      let before = w.lastTime;
      for (const time of times) {
        for (let t = before + 1; t < time - 1e-9; t++) all.push(t);
        wanted.push(all.length);
        all.push(time);
        before = time;
      }
      const parts = pathOf(all);
      return wanted.map((i) =>
        parts.map((p) => ({ weight: p.weight, mean: p.mean[i]!, sd: p.sd[i]! })),
      );
    };
  return {
    animalId: w.source.id,
    weighings: w.count,
    lastTime: w.lastTime,
    lastDay: w.lastDay,
    mass: along((times) => season.pathAhead(w, times, "level")),
    weighing: along((times) => season.pathAhead(w, times, "value")),
    after: (slope, of) =>
      along((times) =>
        season.pathAfterChange(w, { times, of, slope, change, chance: chanceOfChange }),
      ),
    groupGain: (time) => slopeAt(prior.knots, groupSlopes, time),
    scatter: state.variation.noiseSd,
    others: Math.max(0, state.animals - 1),
    before: borrowed.nurseryAnimals + borrowed.seasonAnimals,
  };
}
