import { phaseAt } from "../rates/phases-of.js";
import type { CivilDate } from "../series/animal-series.js";
import { feedingDaySpan } from "../units/calendar.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * The phase of an animal at the end of a feeding day, as the analysis of its whole
 * record has it; null where none is known.
 *
 * @example phaseOn(analysis.settings, analysis.animals)("P1", "2025-05-10") // "milk"
 */
export function phaseOn(
  settings: Pick<StudyAnalysis["settings"], "zone" | "feedingDayStartHour">,
  animals: readonly Pick<AnimalAnalysis, "animalId" | "phases">[],
): (animalId: string, day: CivilDate) => string | null {
  const { zone, feedingDayStartHour } = settings;
  const phases = new Map(animals.map((a) => [a.animalId, a.phases]));
  return (animalId, day) =>
    phaseAt(phases.get(animalId) ?? [], feedingDaySpan(day, zone, feedingDayStartHour).to - 1)
      ?.phase ?? null;
}
