import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { formatDate } from "../../units/format-date.js";
import { say } from "../section/say.js";

/** Of whom, when and from what: the first line of an animal's page. */
export function whereOf(analysis: StudyAnalysis, animal: AnimalAnalysis): string[] {
  const { animalId, name, species, phase } = animal;
  const { sex } = animal.series.animal;
  const days = animal.last?.ageD == null ? null : Math.floor(animal.last.ageD);
  const who = [
    ...(name === null ? [] : [animalId]),
    species,
    sex === "unknown" ? "sex unknown" : sex,
  ];
  return [
    name ?? animalId,
    who.join(", "),
    ...(animal.inCare
      ? [days === null ? say("day-no-age", { phase }) : say("day-age", { days, phase })]
      : []),
    formatDate(analysis.onDay),
  ];
}
