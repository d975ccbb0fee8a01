import { animalLevels } from "../flags/levels/animal-levels.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import { orderDoubts } from "../planning/order-doubts.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import type { Instant } from "../series/animal-series.js";
import { dayOrder } from "../series/orders/day-order.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import type { StudyAnalysis } from "./study-analysis.js";

/**
 * The levels of the animals in care on the day looked at: the one place where what
 * animals, signs and the day's flags raise is put together for every page.
 *
 * @param options `at`: the instant of the page; `now`: the clock, where the page is about the
 *   day in which one lives: with nothing written for long, nothing is said of now.
 * @example levelsOfDay(analysis, { at })[0]?.level // "danger"
 */
export function levelsOfDay(
  analysis: StudyAnalysis,
  options: { readonly at: Instant; readonly now?: Instant },
): readonly AnimalLevel[] {
  const { settings, onDay, records, flags, animals, series } = analysis;
  const dayEnd = feedingDaySpan(onDay, settings.zone, settings.feedingDayStartHour).to;
  // A day after every record is asked about as if it were over.
  const beyond = records.end !== null && records.aboutDay.some(isBeyond);
  const clock = beyond ? Math.min(options.now ?? dayEnd, dayEnd) : options.now;
  return animalLevels(series, {
    at: options.at,
    ...(clock === undefined ? {} : { now: clock }),
    days: flags.value.animals,
    orderDangers: (animalId) => {
      const own = series.animals.find((s) => s.animal.animalId === animalId);
      if (own === undefined) return [];
      const day = feedingDayOf(options.at, settings.zone, settings.feedingDayStartHour);
      const past = seriesUpTo(own, options.at);
      // Of today and of the next feeding day, whose sheet is printed tonight.
      return [day, addDays(day, 1)].flatMap((each) =>
        orderDoubts(past, dayOrder(past.orders, each), { at: options.at, settings })
          .filter((doubt) => doubt.level === "danger")
          .map((doubt) => doubt.why),
      );
    },
    only: animals.filter((a) => a.inCare).map((a) => a.animalId),
  });
}

const isBeyond = (n: { readonly code: string }) => n.code === "analysis-day-beyond-records";
