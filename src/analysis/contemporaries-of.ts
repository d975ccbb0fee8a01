import { phaseAt } from "../rates/phases-of.js";
import { type Contemporaries, contemporaries } from "../reference/contemporaries.js";
import { feedingDaySpan } from "../units/calendar.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** How the contemporaries of an animal are chosen on every page that asks why it gains slowly. */
export function contemporaryChoice(analysis: StudyAnalysis) {
  const { zone, feedingDayStartHour } = analysis.settings;
  const phases = new Map(analysis.animals.map((a) => [a.animalId, a.phases]));
  return {
    earlierSeasons: true,
    phaseOn: (id: string, day: string) =>
      phaseAt(phases.get(id) ?? [], feedingDaySpan(day, zone, feedingDayStartHour).to - 1)?.phase ??
      null,
  } as const;
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
