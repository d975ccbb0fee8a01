import { summaryOfHouse } from "../../reference/expectation-prior.js";
import type { PopulationSummary } from "../../reference/population-summary.js";
import type { StudySeries } from "../../series/animal-series.js";
import { causalPhases } from "./causal-phases.js";
import { watchGroup } from "./watch-group.js";
import { watchedSpecies } from "./watch-study.js";

/** One species of a study, as other nurseries may know it. */
export interface PriorOfStudy {
  readonly species: string;
  readonly summary: PopulationSummary;
}

/**
 * What a study says of gain, species by species, for a prior file: from its own
 * weighings alone. Prior files that the study itself uses are left out, so that what
 * came from others is never handed on as one's own.
 *
 * @example priorOfStudy(study)[0].summary.seasons // 3
 */
export function priorOfStudy(study: StudySeries): PriorOfStudy[] {
  return watchedSpecies(study, { phaseOn: causalPhases(study) }).flatMap((watched) => {
    const days = watched.animals.flatMap((a) => a.day.at(-1) ?? []);
    if (days.length === 0) return [];
    const lastDay = days.reduce((a, b) => Math.max(a, b));
    const options = { weakGain: watched.weakGain };
    const seasons = watchGroup(watched.animals, lastDay + 1, options, () => {}, lastDay + 2);
    const summary = summaryOfHouse(
      watched.weakGain,
      seasons.map((s) => s.summary()),
    );
    return [{ species: watched.species, summary }];
  });
}
