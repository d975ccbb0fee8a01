import type { CivilDate } from "../../series/animal-series.js";
import type { SpeciesProfile } from "../../species/species-profile.js";
import { addDays } from "../../units/calendar.js";

/** The phase of one animal on a day, from data up to that day. */
export type PhaseOn = (day: CivilDate) => string | null;

/** Feeding days after admission, and after a fast, on which intake is still being built up. */
const buildUpD = 7;

const unsettled = (phase: string | null) => phase === "arrival" || phase === "post-weaning fast";

/**
 * Is intake still being built up on that day: in the week after admission (water
 * comes back before appetite does, so the arrival phase may end earlier), or in the
 * week after a fast?
 *
 * @example isBuildUp(() => "milk", "2031-05-14", "2031-05-10") // true
 */
export function isBuildUp(phaseOn: PhaseOn, day: CivilDate, firstDay: CivilDate | null): boolean {
  if (firstDay !== null && day < addDays(firstDay, buildUpD)) return true;
  if (phaseOn(day) === "post-weaning fast") return false;
  for (let back = 1; back <= buildUpD; back++) {
    if (phaseOn(addDays(day, -back)) === "post-weaning fast") return true;
  }
  return false;
}

/**
 * Do the last `days` days up to `day` hold neither arrival nor fast? A gain over
 * days on which water came back, or nothing was eaten, is no growth.
 *
 * @example isSettled(() => "milk", "2031-05-14", 7) // true
 */
export function isSettled(phaseOn: PhaseOn, day: CivilDate, days: number): boolean {
  for (let back = 0; back < days; back++) {
    if (unsettled(phaseOn(addDays(day, -back)))) return false;
  }
  return true;
}

/**
 * Is the animal in a fast that is not longer than its species' fasts are? A fast
 * that goes on beyond that is judged like any day without food.
 *
 * @example isInUsualFast(() => "milk", "2031-05-14", 17) // false
 */
export function isInUsualFast(phaseOn: PhaseOn, day: CivilDate, longestD: number): boolean {
  for (let back = 0; back <= longestD; back++) {
    if (phaseOn(addDays(day, -back)) !== "post-weaning fast") return back > 0;
  }
  return false;
}

/** Longest fast after weaning that is usual in the species, days; 0 where it has none. */
export function longestFastD(profile: SpeciesProfile): number {
  return Math.ceil(profile.postWeaningFast?.range[1] ?? 0);
}
