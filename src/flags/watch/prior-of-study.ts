import { summaryOfHouse } from "../../reference/expectation-prior.js";
import type { PopulationSummary } from "../../reference/population-summary.js";
import type { StudySeries } from "../../series/animal-series.js";
import { causalPhases } from "./causal-phases.js";
import { watchGroup } from "./watch-group.js";
import { watchedSpecies } from "./watch-study.js";

/**
 * What a study says of the gain of one of its species, for a prior file: from its own
 * weighings alone. Prior files that the study itself uses are left out, so that what
 * came from others is never handed on as one's own. Null where nothing was weighed.
 *
 * @example priorOfStudy(study, "sea otter")?.seasons // 3
 */
export function priorOfStudy(study: StudySeries, species: string): PopulationSummary | null {
  const animals = study.animals.filter((a) => a.animal.species === species);
  const only = { ...study, animals };
  const [watched] = watchedSpecies(only, { phaseOn: causalPhases(only) });
  const days = watched?.animals.flatMap((a) => a.day.at(-1) ?? []) ?? [];
  if (watched === undefined || days.length === 0) return null;
  const lastDay = days.reduce((a, b) => Math.max(a, b));
  const options = { weakGain: watched.weakGain };
  const seasons = watchGroup(watched.animals, lastDay + 1, options, () => {}, lastDay + 2);
  return summaryOfHouse(
    watched.weakGain,
    seasons.map((s) => s.summary()),
  );
}
