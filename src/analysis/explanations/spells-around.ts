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
    now: spellOf(animal.series, animal.intake.value, from, to),
    before: beforeOf(analysis, animal, from),
  };
}

/** The fortnight before a day, arrival left out; null where too little was weighed. */
export function beforeOf(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  to: CivilDate,
): Spell | null {
  const { zone, feedingDayStartHour } = analysis.settings;
  const arrived = animal.phases.find((p) => p.phase === "arrival");
  const earliest =
    arrived?.to == null
      ? (animal.first?.feedingDay ?? to)
      : feedingDayOf(arrived.to, zone, feedingDayStartHour);
  const from = [addDays(to, -beforeD), earliest].sort()[1]!;
  if (daysBetween(from, to) < shortestD - 1) return null;
  const spell = spellOf(animal.series, animal.intake.value, from, to);
  return spell.gainPct === null ? null : spell;
}
