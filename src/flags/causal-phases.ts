import { phasesOf } from "../rates/phases-of.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { feedingDaySpan } from "../units/calendar.js";

/**
 * The phase of an animal on a day, each from data up to the end of that day only,
 * remembered once worked out.
 *
 * @example causalPhases(study)("P07", "2031-05-14") // "milk"
 */
export function causalPhases(
  study: StudySeries,
): (animalId: string, day: CivilDate) => string | null {
  const known = new Map<string, string | null>();
  const byId = new Map(study.animals.map((a) => [a.animal.animalId, a]));
  const { zone, feedingDayStartHour } = study.settings;
  return (animalId, day) => {
    const key = `${animalId} ${day}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const series = byId.get(animalId);
    const endAt = feedingDaySpan(day, zone, feedingDayStartHour).to - 1;
    const phase =
      series === undefined
        ? null
        : (phasesOf(series, { settings: study.settings, endAt }).value.phases.at(-1)?.phase ??
          null);
    known.set(key, phase);
    return phase;
  };
}
