import { defaultIllnessKinds } from "../reference/contemporaries.js";
import { recordEnd } from "../reference/in-care.js";
import { feedingDayOf, numberOfDate } from "../units/calendar.js";
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
  const { zone, feedingDayStartHour } = analysis.settings;
  const arrivalEnd =
    animal.phases.find((p) => p.phase === "arrival")?.to ?? Number.NEGATIVE_INFINITY;
  const fasts = animal.phases.filter((p) => p.phase === "post-weaning fast");
  const inFast = (at: number) => fasts.some((p) => at >= p.from && (p.to === null || at < p.to));
  const { series } = animal;
  const unwell = series.observations
    .filter((o) => defaultIllnessKinds.includes(o.kind))
    .map((o) => numberOfDate(feedingDayOf(o.at, zone, feedingDayStartHour)));
  const groupIll = analysis.series.events
    .filter((e) => e.kind === "illness in group" && (e.scope === "study" || e.scope === "season"))
    .map((e) => numberOfDate(feedingDayOf(e.at, zone, feedingDayStartHour)));
  const ill = [...unwell, ...groupIll];
  const end = recordEnd(series);
  const { outcome } = series.animal;
  const died =
    end !== null && (outcome === "died" || outcome === "euthanised") ? numberOfDate(end) : null;
  return {
    id: animal.animalId,
    rows: series.daily
      .filter((d) => d.massG > 0 && d.at >= arrivalEnd && !inFast(d.at))
      .map((d) => {
        const day = numberOfDate(d.feedingDay);
        const near = ill.some((i) => day - i >= -3 && day - i <= 7);
        return {
          time: d.at / dayMs,
          age: series.age.usableForWeightForAge ? d.ageD : null,
          logMass: Math.log(d.massG),
          error: Math.max(1e-4, d.errorG / d.massG),
          usual: d.usualCondition,
          serves: !near && (died === null || died - day > 14),
        };
      }),
  };
}
