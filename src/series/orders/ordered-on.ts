import type { CivilDate, Instant } from "../../records/study.js";
import {
  civilDayOf,
  daysBetween,
  feedingDayOf,
  localInstant,
  numberOfDate,
  weekdayOf,
} from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import { minuteMs } from "../../units/minute-ms.js";
import type { OrderLine } from "./order-line.js";
import { orderAt } from "./order-steps.js";
import type { AnimalOrders } from "./orders-of.js";

/**
 * Whether a line is due on a feeding day, by its days of the week or every so
 * many days from the feeding day on which it begins; null where its days are
 * written and could not be read.
 */
export function orderedOn(
  line: OrderLine,
  day: CivilDate,
  { zone, startHour }: Pick<AnimalOrders, "zone" | "startHour">,
): boolean | null {
  if (line.days === null) return line.daysWords === null ? true : null;
  if (line.days.kind === "week") return line.days.days.includes(weekdayOf(day));
  return daysBetween(feedingDayOf(line.from, zone, startHour), day) % line.days.days === 0;
}

/**
 * The lines in force at an instant and due on its feeding day. A line whose days
 * could not be read is among them, without an amount of the day.
 */
export function dueLines(orders: AnimalOrders, at: Instant): readonly OrderLine[] {
  const day = feedingDayOf(at, orders.zone, orders.startHour);
  return orderAt(orders, at).lines.flatMap((line) => {
    const due = orderedOn(line, day, orders);
    if (due === null) return [{ ...line, gPerDay: null }];
    return due ? [line] : [];
  });
}

/** A clock time "HH:MM" as an instant of a stretch of about a day; null where it falls outside. */
export function instantOfTime(
  time: string,
  from: Instant,
  to: Instant,
  zone: string,
): Instant | null {
  const clock = Number(time.slice(0, 2)) * hourMs + Number(time.slice(3)) * minuteMs;
  const midnight = numberOfDate(civilDayOf(from, zone)) * dayMs;
  for (const local of [midnight + clock, midnight + dayMs + clock]) {
    const at = localInstant(local, zone);
    if (at >= from && at < to) return at;
  }
  return null;
}
