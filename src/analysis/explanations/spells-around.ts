import type { CivilDate } from "../../series/animal-series.js";
import { addDays, daysBetween, feedingDayOf } from "../../units/calendar.js";
import type { AnimalAnalysis, StudyAnalysis } from "../study-analysis.js";
import { type Spell, spellOf } from "./spell.js";

/** Shortest run of days that a gain is taken over. */
export const shortestD = 7;
/** Days before the window that are held against it. */
const beforeD = 14;
/** Relative gain falls as an animal grows: share of it lost from one window to the next without a cause. */
export const ageTrend = 0.08;

/** One animal over the window and over the fortnight before it, arrival left out. */
export function spellsAround(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  from: CivilDate,
  to: CivilDate,
): { readonly now: Spell; readonly before: Spell | null } {
  return {
    now: spellIn(analysis, animal, from, to),
    before: beforeOf(analysis, animal, from),
  };
}

/** One animal of an analysis over a run of days. */
export function spellIn(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  from: CivilDate,
  to: CivilDate,
): Spell {
  const batches = new Map(analysis.series.batches.map((b) => [b.batchId, b]));
  return spellOf(animal.series, batches, animal.intake.value, from, to);
}

/** The fortnight before a day, arrival left out; null where too little was weighed. */
export function beforeOf(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  to: CivilDate,
): Spell | null {
  const earliest = firstDayOfCourse(analysis, animal);
  const from = [addDays(to, -beforeD), earliest].sort()[1]!;
  if (daysBetween(from, to) < shortestD - 1) return null;
  const spell = spellIn(analysis, animal, from, to);
  return spell.gainPct === null ? null : spell;
}

/** The day on which its arrival phase ended; its first weighed day where it had none. */
export function firstDayOfCourse(analysis: StudyAnalysis, animal: AnimalAnalysis): CivilDate {
  const { zone, feedingDayStartHour } = analysis.settings;
  const arrived = animal.phases.find((p) => p.phase === "arrival");
  return arrived?.to == null
    ? (animal.first?.feedingDay ?? analysis.onDay)
    : feedingDayOf(arrived.to, zone, feedingDayStartHour);
}
