import type { IntakeDay } from "../../rates/intake-by-day.js";
import { phasesOf } from "../../rates/phases-of.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../../series/animal-series.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";

/**
 * The phase of an animal on a day, each from data up to the end of that day only,
 * remembered once worked out.
 *
 * @example causalPhases(study)("P07", "2031-05-14") // "milk"
 */
export function causalPhases(
  study: StudySeries,
  /** Intake already worked out, by animal: saves most of the work. */
  intakeOf: (animalId: string) => readonly IntakeDay[] | undefined = () => undefined,
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
    const intake = intakeOf(animalId);
    const phase =
      series === undefined
        ? null
        : (phasesOf(withoutOldMasses(series, endAt), {
            settings: study.settings,
            endAt,
            ...(intake === undefined ? {} : { intake }),
          }).value.phases.at(-1)?.phase ?? null);
    known.set(key, phase);
    return phase;
  };
}

/**
 * Arrival ends at day 7 at the latest: beyond it the masses no longer matter, and
 * smoothing them again every day would be most of the work.
 */
function withoutOldMasses(series: AnimalSeries, endAt: number): AnimalSeries {
  const start = series.animal.admittedAt ?? series.span?.from ?? endAt;
  return endAt > start + 8 * dayMs ? { ...series, daily: [] } : series;
}
