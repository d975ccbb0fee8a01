import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { formatDate } from "../../units/format-date.js";
import { ageAndPhase } from "../day/age-and-phase.js";

/** Of whom, when and from what: the first line of an animal's page. */
export function whereOf(analysis: StudyAnalysis, animal: AnimalAnalysis): string[] {
  const { animalId, name, species } = animal;
  const { sex } = animal.series.animal;
  const who = [
    ...(name === null ? [] : [animalId]),
    species,
    sex === "unknown" ? "sex unknown" : sex,
  ];
  return [
    name ?? animalId,
    who.join(", "),
    ...(animal.inCare ? [ageAndPhase(analysis.onDay, analysis.settings.zone, animal)] : []),
    formatDate(analysis.onDay),
  ];
}
