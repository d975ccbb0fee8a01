import {
  closedEpisode,
  defaultEpisodeRule,
  nextEpisodeState,
} from "../../../src/flags/animal-day/episode-rule.js";
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
}

/** Watches one nursery's last season, where all may gain a share from a day of the season on. */
export function watchTogether(
  world: World,
  design: GroupDesign,
  priors: readonly PopulationSummary[],
  seed: number,
  allFrom?: Nursery["allFrom"],
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
  const animals = nursery.map(watchedOf);
  const lastDay = Math.max(...animals.map((a) => a.day.at(-1) ?? 0));
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
      },
    },
    () => {},
    Number.POSITIVE_INFINITY,
  );
  return { days, evidence };
}

/** Days on which it opens at a threshold, by the rule of episodes. */
export function openingsOf(run: GroupRun, threshold: number): number[] {
  let state = closedEpisode;
  return run.days.filter((_, i) => {
    const was = state.open;
    state = nextEpisodeState(state, run.evidence[i]! / threshold, defaultEpisodeRule);
    return state.open && !was;
  });
}
