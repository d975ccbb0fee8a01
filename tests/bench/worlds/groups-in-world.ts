import {
  closedEpisode,
  defaultEpisodeRule,
  nextEpisodeState,
} from "../../../src/flags/animal-day/episode-rule.js";
import { groupThresholds } from "../../../src/flags/watch/short-together.js";
import { watchGroup } from "../../../src/flags/watch/watch-group.js";
import type { PopulationSummary } from "../../../src/reference/population-summary.js";
import { watchedOf } from "./watch-world.js";
import { drawNursery, type Nursery, type World } from "./world.js";

export interface GroupDesign {
  readonly size: number;
  readonly before: "nothing" | "two seasons" | "prior file";
}

/** A season's group as it was judged: day of the season and evidence that all are short. */
export interface GroupRun {
  readonly days: readonly number[];
  readonly evidence: readonly number[];
  /** The same from the season's first day on, 0 where nothing is known of it. */
  readonly fromTheFirst: readonly number[];
}

/**
 * Watches one nursery's last season, where all may gain a share from a day of the season on;
 * up to `untilDay` of the season alone.
 */
export function watchTogether(
  world: World,
  design: GroupDesign,
  priors: readonly PopulationSummary[],
  seed: number,
  allFrom?: Nursery["allFrom"],
  untilDay = Number.POSITIVE_INFINITY,
): GroupRun {
  const seasons = design.before === "two seasons" ? [8, 8, design.size] : [design.size];
  const nursery = drawNursery(
    world,
    allFrom === undefined ? { seasons } : { seasons, allFrom },
    seed,
  );
  const begin = (seasons.length - 1) * 365;
  const days: number[] = [];
  const evidence: number[] = [];
  const fromTheFirst: number[] = [];
  const animals = nursery.map(watchedOf);
  const end = Math.max(...animals.map((a) => a.day.at(-1) ?? 0));
  const lastDay = Math.min(end, begin + untilDay);
  watchGroup(
    animals,
    lastDay,
    {
      ...(design.before === "prior file" ? { priors } : {}),
      expectFromDay: begin,
      seeGroup: (seen) => {
        if (seen.season !== String(seasons.length - 1)) return;
        days.push(seen.day - begin);
        evidence.push(seen.evidence);
        fromTheFirst.push(seen.fromTheFirst?.evidence ?? 0);
      },
    },
    () => {},
    Number.POSITIVE_INFINITY,
  );
  return { days, evidence, fromTheFirst };
}

/** Days on which a season is named short since a day, and short from its first day on. */
export function namedDays(run: GroupRun) {
  return {
    sinceADay: openingsOf(run.days, run.evidence, groupThresholds.sinceADay),
    fromTheFirst: openingsOf(run.days, run.fromTheFirst, groupThresholds.fromTheFirst),
  };
}

/** Days on which it opens at a threshold, by the rule of episodes. */
function openingsOf(days: readonly number[], evidence: readonly number[], threshold: number) {
  let state = closedEpisode;
  return days.filter((_, i) => {
    const was = state.open;
    state = nextEpisodeState(state, evidence[i]! / threshold, defaultEpisodeRule);
    return state.open && !was;
  });
}
