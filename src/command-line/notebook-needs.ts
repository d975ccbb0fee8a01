import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";

const longDays = 8;
const agedDays = 6;
/** Three to fit, and one that is left out and forecast. */
const agedAnimals = 4;

/** Eight for each of the three houses to which they are shared out. */
const sharedOut = 24;

/**
 * What a study has not got yet that a notebook of the project needs; null where it can
 * be run. Notebooks of other names are never held back.
 *
 * @param hasEngine whether the optional engine of archives is installed.
 * @example notebookNeeds("season-comparison", series, true)?.code // "notebook-needs-seasons"
 */
export function notebookNeeds(
  name: string,
  { animals }: StudySeries,
  hasEngine: boolean,
): Notice | null {
  if (animals.every((a) => a.weighings.length === 0))
    return notice("notebook-needs-weighing", "info");
  switch (name) {
    case "season-comparison": {
      const seasons = most(
        animals,
        (a) => new Set(a.flatMap((each) => each.animal.season ?? [])).size,
      );
      return seasons >= 2 ? null : notice("notebook-needs-seasons", "info", { seasons });
    }
    case "explain-growth-curves": {
      const longest = Math.max(...animals.map((a) => a.daily.length));
      const needed = { most: longest, days: longDays };
      return longest >= longDays ? null : notice("notebook-needs-days", "info", needed);
    }
    case "explain-cohort-curves": {
      const isAged = (a: AnimalSeries) => a.age.usableForWeightForAge && a.daily.length >= agedDays;
      const aged = most(animals, (a) => a.filter(isAged).length);
      const needed = { animals: aged, needed: agedAnimals, days: agedDays };
      return aged >= agedAnimals ? null : notice("notebook-needs-ages", "info", needed);
    }
    case "pool-nurseries": {
      if (!hasEngine) return notice("notebook-needs-engine", "info");
      const isAged = (a: AnimalSeries) => a.age.usableForWeightForAge && a.daily.length >= agedDays;
      const aged = most(animals, (a) => a.filter(isAged).length);
      const needed = { animals: aged, needed: sharedOut };
      return aged >= sharedOut ? null : notice("notebook-needs-houses", "info", needed);
    }
    default:
      return null;
  }
}

/** The most that any species of the study has of something. */
function most(
  animals: readonly AnimalSeries[],
  count: (animals: readonly AnimalSeries[]) => number,
): number {
  const species = [...new Set(animals.map((a) => a.animal.species))];
  return Math.max(
    0,
    ...species.map((each) => count(animals.filter((a) => a.animal.species === each))),
  );
}
