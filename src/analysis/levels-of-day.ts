import { animalLevels } from "../flags/levels/animal-levels.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import type { Instant } from "../series/animal-series.js";
import { feedingDaySpan } from "../units/calendar.js";
import type { StudyAnalysis } from "./study-analysis.js";

/**
 * The levels of the animals in care on the day looked at: the one place where what
 * animals, signs and the day's flags raise is put together for every page.
 *
 * @param options `at`: the instant of the page; `now`: the clock, where it is known.
 * @example levelsOfDay(analysis, { at })[0]?.level // "danger"
 */
export function levelsOfDay(
  analysis: StudyAnalysis,
  options: { readonly at: Instant; readonly now?: Instant },
): readonly AnimalLevel[] {
  const { settings, onDay, records, flags, animals, series } = analysis;
  const dayEnd = feedingDaySpan(onDay, settings.zone, settings.feedingDayStartHour).to;
  // A day after every record is asked about as if it were over.
  const beyond = records.end !== null && records.aboutDay.some(isBeyond) ? dayEnd : null;
  const clock = options.now === undefined ? beyond : Math.min(options.now, dayEnd);
  return animalLevels(series, {
    at: options.at,
    ...(clock === null ? {} : { now: clock }),
    days: flags.value.animals,
    only: animals.filter((a) => a.inCare).map((a) => a.animalId),
  });
}

const isBeyond = (n: { readonly code: string }) => n.code === "analysis-day-beyond-records";
