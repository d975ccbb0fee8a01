import { type Contemporaries, contemporaries } from "../reference/contemporaries.js";
import { phaseOn } from "./phase-on.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** How the contemporaries of an animal are chosen on every page that asks why it gains slowly. */
export function contemporaryChoice(analysis: StudyAnalysis) {
  return { earlierSeasons: true, phaseOn: phaseOn(analysis.settings, analysis.animals) } as const;
}

/**
 * One set of contemporaries for everything that is said of one animal's gain:
 * earlier seasons serve, arrival and fast are compared with their like.
 */
export function contemporariesOf(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  gainDays = 7,
): Contemporaries {
  return contemporaries(analysis.series, animal.animalId, {
    ...contemporaryChoice(analysis),
    onDay: analysis.onDay,
    gainDays,
  });
}
