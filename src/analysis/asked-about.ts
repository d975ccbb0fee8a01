import { type AnimalLevel, mostConcernFirst } from "../flags/levels/level.js";
import type { Study } from "../records/study.js";
import { instantOfDay } from "./change-of-shift.js";
import { levelsOfDay } from "./levels-of-day.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * The species a question is about where nobody names one: that of the animal admitted
 * last, in ties the one with the most animals; without animals, the study's first.
 *
 * @example speciesAskedAbout(study) // "sea otter"
 */
export function speciesAskedAbout(study: Study): string {
  const { animals } = study.tables;
  const count = (species: string) => animals.filter((a) => a.species === species).length;
  const last = [...animals].sort(
    (a, b) => (b.admittedAt ?? 0) - (a.admittedAt ?? 0) || count(b.species) - count(a.species),
  )[0];
  return last?.species ?? study.settings.species[0] ?? "";
}

/**
 * The season of the animal admitted last, of one species or of all; null where no
 * season is written.
 *
 * @example latestSeason(study, "sea otter") // "2024"
 */
export function latestSeason(study: Study, species: string | null = null): string | null {
  const last = study.tables.animals
    .filter((a) => a.season !== null && (species === null || a.species === species))
    .sort((a, b) => (b.admittedAt ?? 0) - (a.admittedAt ?? 0))[0];
  return last?.season ?? null;
}

/**
 * The animal that the day's page names first; where nobody is in care, the one with
 * the newest weighing.
 *
 * @example firstOfConcern(analysis).animalId // "S25-04"
 */
export function firstOfConcern(analysis: StudyAnalysis): AnimalAnalysis {
  const { animals } = analysis;
  const levels = levelsOfDay(analysis, { at: instantOfDay(analysis) });
  const first: AnimalLevel | undefined = [...levels].sort(mostConcernFirst)[0];
  const newest = (a: AnimalAnalysis) => a.series.span?.to ?? Number.NEGATIVE_INFINITY;
  return (
    animals.find((a) => a.animalId === first?.animalId) ??
    [...animals].sort((a, b) => newest(b) - newest(a))[0]!
  );
}

/**
 * The animal weighed on most days, of one species or of all; of the same number of
 * days the one admitted last.
 *
 * @example longestRecord(analysis).animalId // "O22-03"
 */
export function longestRecord(
  analysis: StudyAnalysis,
  species: string | null = null,
): AnimalAnalysis {
  const all = analysis.animals.filter((a) => species === null || a.species === species);
  const admitted = (a: AnimalAnalysis) => a.series.animal.admittedAt ?? 0;
  return [...(all.length > 0 ? all : analysis.animals)].sort(
    (a, b) => b.series.daily.length - a.series.daily.length || admitted(b) - admitted(a),
  )[0]!;
}
