import { watchGroup } from "../../../src/flags/watch/watch-group.js";
import { summaryOfHouse } from "../../../src/reference/expectation-prior.js";
import type { PopulationSummary } from "../../../src/reference/population-summary.js";
import { watchedOf } from "./watch-world.js";
import { drawNursery } from "./world.js";
import { priorSeed, training } from "./worlds.js";

/** What other nurseries, drawn from the training world, would write as prior files. */
export function priorsForWorlds(nurseries = 12, gainFactor = 1): readonly PopulationSummary[] {
  return Array.from({ length: nurseries }, (_, i) => {
    const drawn = drawNursery(training, { seasons: [10, 10], gainFactor }, priorSeed + i);
    const animals = drawn.map(watchedOf);
    const lastDay = Math.max(...animals.map((a) => a.day.at(-1) ?? 0));
    const seasons = watchGroup(animals, lastDay, {}, () => {}, Number.POSITIVE_INFINITY);
    return summaryOfHouse(
      { gain: 0.01 },
      seasons.map((s) => s.summary()),
    );
  });
}
