import type { Notice } from "../core/notice.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import {
  type NotCompared,
  type PlannedAndEaten,
  plannedAndEaten,
} from "../rates/planned-and-eaten.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import type { StudySeries } from "../series/animal-series.js";
import { dayOrder } from "../series/orders/day-order.js";
import { addDays, feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { type AnimalOrder, animalOrder, printedAmount } from "./animal-order.js";
import { type BatchInUse, batchesInUse } from "./batches-in-use.js";
import type { DaySheet } from "./day-sheet.js";
import { orderDoubts } from "./order-doubts.js";
import { planDay } from "./plan-day.js";

/** A feed with an ordered time. */
export interface DueFeed {
  readonly at: number;
  readonly time: string;
  readonly dietId: string | null;
  /** As ordered; "460 ? ask" in doubt; blank where no amount is ordered. */
  readonly amount: string;
}

/** One animal at the change of shift. */
export interface AnimalShift {
  readonly animalId: string;
  /** The 24 hours up to the change beside what was then ordered. */
  readonly compared: PlannedAndEaten | NotCompared;
  /** What is ordered for the feeding day under way, as ordered. */
  readonly order: AnimalOrder;
  /** Feeds of the coming 24 hours whose times are ordered. */
  readonly due: readonly DueFeed[];
  /** Why suggestions wait: dangers, and what must be measured or asked first; the order stays as ordered. */
  readonly hold: readonly Notice[];
}

export interface ShiftPlan {
  /** The instant of the change; nothing recorded later is read. */
  readonly until: number;
  readonly animals: readonly AnimalShift[];
  /** The sheet of the feeding day after the one under way; only what is ordered stands in its rows. */
  readonly sheet: DaySheet;
  /** The newest batch of each diet that was fed from, with the hour at which it is to be discarded. */
  readonly batches: readonly BatchInUse[];
}

/**
 * What the next shift has to give: what is ordered, as ordered, at every level;
 * the feeds of the coming 24 hours whose times are ordered; whether the last 24
 * hours kept to the order; and the sheet of the next feeding day. Amounts that
 * nobody ordered are not made up here.
 *
 * @example planShift(series, { until }).animals[0]?.due[0] // { time: "21:00", dietId: "milk", amount: "48 g", ... }
 */
export function planShift(
  study: StudySeries,
  options: { readonly until: number; readonly levels?: readonly AnimalLevel[] },
): ShiftPlan {
  const { settings } = study;
  const { until } = options;
  const today = feedingDayOf(until, settings.zone, settings.feedingDayStartHour);
  const { levels } = options;
  const next = planDay(study, { at: until, ...(levels === undefined ? {} : { levels }) }).value;
  const animals = next.rations.map((later): AnimalShift => {
    const { animalId } = later;
    const series = study.animals.find((s) => s.animal.animalId === animalId)!;
    const past = seriesUpTo(series, until);
    const days = [today, addDays(today, 1)].map((day) => {
      const order = dayOrder(series.orders, day, day === today ? until : null);
      return { order, doubts: orderDoubts(past, order, { at: until, settings }) };
    });
    const now = days[0]!;
    return {
      animalId,
      // Up to and with the last record; the stretch itself leaves its end out.
      compared: plannedAndEaten(series, until - dayMs + 1, until + 1),
      order: animalOrder(past, now.order, now.doubts, until, study.ordersOfNobody),
      due: days.flatMap(({ order, doubts }) =>
        order.feeds.flatMap(({ at, time, line }): DueFeed[] => {
          if (at === null || time === null || at <= until || at > until + dayMs) return [];
          return [{ at, time, dietId: line.dietId, amount: printedAmount(line, doubts) }];
        }),
      ),
      hold: later.level.reasons.filter((r) => r.suggestionsWait).map((r) => r.sentence),
    };
  });
  return { until, animals, sheet: next.sheet, batches: batchesInUse(study, until) };
}
