import { beforeDeathD, dayOfDeath, isNearUnwell, unwellDays } from "../reference/unwell-days.js";
import { numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { CourseAnimal } from "./course-forecast.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * The animals of one species as plain numbers for `replayCourses`. Left out are
 * days in arrival (early change is rehydration) and in the post-weaning fast
 * (loss is expected). Days near illness or treatment (3 before to 7 after)
 * and the last 14 before death do not serve as the healthy reference.
 */
export function coursesOfStudy(analysis: StudyAnalysis, species: string): readonly CourseAnimal[] {
  return analysis.animals
    .filter((a) => a.species === species)
    .map((a) => courseAnimal(analysis, a));
}

/** One animal as plain numbers. */
export function courseAnimal(analysis: StudyAnalysis, animal: AnimalAnalysis): CourseAnimal {
  const arrivalEnd =
    animal.phases.find((p) => p.phase === "arrival")?.to ?? Number.NEGATIVE_INFINITY;
  const fasts = animal.phases.filter((p) => p.phase === "post-weaning fast");
  const inFast = (at: number) => fasts.some((p) => at >= p.from && (p.to === null || at < p.to));
  const { series } = animal;
  const unwell = unwellDays(analysis.series, series);
  const died = dayOfDeath(series);
  return {
    id: animal.animalId,
    rows: series.daily
      .filter((d) => d.massG > 0 && d.at >= arrivalEnd && !inFast(d.at))
      .map((d) => {
        const day = numberOfDate(d.feedingDay);
        return {
          time: d.at / dayMs,
          age: series.age.usableForWeightForAge ? d.ageD : null,
          logMass: Math.log(d.massG),
          error: Math.max(1e-4, d.errorG / d.massG),
          usual: d.usualCondition,
          serves: !isNearUnwell(unwell, day) && (died === null || died - day > beforeDeathD),
        };
      }),
  };
}
