import type { AnimalHistory } from "../growth/cohort/animal-history.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { curvePoints } from "./curve-points.js";
import type { StudyAnalysis } from "./study-analysis.js";

/**
 * The histories of a species for a cohort curve: daily masses by age without
 * the arrival phase and, in seals, without the fast and what follows; animals
 * whose age is not usable are left out.
 *
 * @example curveHistories(analysis, { species: "sea otter" }).length // 21
 */
export function curveHistories(
  analysis: StudyAnalysis,
  options: { readonly species: string; readonly seasons?: readonly string[] },
): AnimalHistory[] {
  return analysis.animals
    .filter((a) => a.species === options.species && a.series.age.usableForWeightForAge)
    .filter((a) => options.seasons === undefined || options.seasons.includes(a.season ?? ""))
    .map((a) => {
      const { ages, masses } = curvePoints(a.series, a.phases);
      return {
        animal: a.animalId,
        ages,
        masses,
        ...(a.season === null ? {} : { covariates: { season: a.season } }),
      };
    })
    .filter((h) => h.ages.length > 0);
}

/** Equally spaced ages from the first to the last weighed age of a cohort, for drawing. */
export function agesAcross(fit: CohortFit, count = 60): number[] {
  const { from, to } = fit.value.ages;
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
