import type { CivilDate, Instant } from "../../records/study.js";
import { feedingDaySpan } from "../../units/calendar.js";
import type { OrderLine } from "./order-line.js";
import { noOrder, type OrderInForce, type OrderStep } from "./order-steps.js";
import { instantOfTime, orderedOn } from "./ordered-on.js";
import type { AnimalOrders } from "./orders-of.js";

/** One feed as ordered. */
export interface OrderedFeed {
  /** Null where no time is ordered. */
  readonly at: Instant | null;
  readonly time: string | null;
  readonly line: OrderLine;
}

/** A line whose feeds of the day cannot be counted, and the part of the day in which it holds. */
export interface UncountedLine {
  readonly line: OrderLine;
  readonly from: Instant;
  readonly to: Instant;
  readonly why: "part of the day" | "number not ordered" | "days not read";
}

/** What is ordered for one feeding day, feed by feed. */
export interface DayOrder {
  readonly feedingDay: CivilDate;
  readonly from: Instant;
  readonly to: Instant;
  /** What is in force when the day, or what is left of it, begins. */
  readonly atStart: OrderInForce;
  /** What begins or ends inside the day. */
  readonly changes: readonly OrderStep[];
  /** Feeds with a time in order of time, then those without. */
  readonly feeds: readonly OrderedFeed[];
  readonly uncounted: readonly UncountedLine[];
  /** In force, but not due on this day of the week. */
  readonly notToday: readonly OrderLine[];
  /** Grams of the day; null where anything ordered cannot be added up in grams. */
  readonly grams: number | null;
}

/**
 * What is ordered for a feeding day. A feed with a time is due when its line is
 * in force at that time; feeds without a time are counted where their line holds
 * the whole day, and not counted where it holds for part of it, since how many
 * fall into that part is not ordered. Nothing is computed but the sum.
 *
 * @param now of a day under way: what was replaced or ended by then is left out,
 *   and what began by then is in force. Default: the day's beginning.
 * @example dayOrder(series.orders, "2025-05-02").feeds.length // 12
 */
export function dayOrder(
  orders: AnimalOrders,
  feedingDay: CivilDate,
  now: Instant | null = null,
): DayOrder {
  const { zone, startHour } = orders;
  const { from, to } = feedingDaySpan(feedingDay, zone, startHour);
  const begin = now === null ? from : Math.min(Math.max(now, from), to - 1);
  const steps = orders.steps.filter((s) => s.from < to && (s.to === null || s.to > from));
  const ahead = new Set(
    steps.flatMap((s) => (s.to === null || s.to > begin ? s.inForce.lines : [])),
  );
  const held = new Map<OrderLine, { from: Instant; to: Instant }>();
  for (const step of steps) {
    const start = Math.max(step.from, from);
    const end = Math.min(step.to ?? to, to);
    for (const line of step.inForce.lines) {
      if (!ahead.has(line)) continue;
      const known = held.get(line);
      // A line once out of force never returns, so its stretches join.
      if (known === undefined) held.set(line, { from: start, to: end });
      else known.to = end;
    }
  }
  const timed: (OrderedFeed & { readonly at: Instant })[] = [];
  const untimed: OrderedFeed[] = [];
  const uncounted: UncountedLine[] = [];
  const notToday: OrderLine[] = [];
  for (const [line, part] of held) {
    const due = orderedOn(line, feedingDay, orders);
    if (due === false) {
      notToday.push(line);
    } else if (due === null) {
      uncounted.push({ line, ...part, why: "days not read" });
    } else if (line.times.length > 0) {
      for (const time of line.times) {
        const at = instantOfTime(time, from, to, zone);
        if (at !== null && at >= part.from && at < part.to) timed.push({ at, time, line });
      }
    } else if (line.feeds === null || !Number.isInteger(line.feeds)) {
      uncounted.push({ line, ...part, why: "number not ordered" });
    } else if (part.from > from || part.to < to) {
      uncounted.push({ line, ...part, why: "part of the day" });
    } else {
      for (let k = 0; k < line.feeds; k++) untimed.push({ at: null, time: null, line });
    }
  }
  const feeds = [...timed.sort((a, b) => a.at - b.at), ...untimed];
  return {
    feedingDay,
    from,
    to,
    atStart: steps.filter((s) => s.from <= begin).at(-1)?.inForce ?? noOrder,
    changes: steps.filter((s) => s.from > begin),
    feeds,
    uncounted,
    notToday,
    grams: gramsOf(feeds, uncounted),
  };
}

function gramsOf(feeds: readonly OrderedFeed[], uncounted: readonly UncountedLine[]) {
  let sum = 0;
  for (const { line } of feeds) {
    // A line with an unread cell has no sure amount of the day, so no feed of it is added up.
    if (line.gPerFeed === null || line.gPerDay === null) return null;
    sum += line.gPerFeed;
  }
  for (const { line, why } of uncounted) {
    if (why !== "number not ordered" || line.gPerDay === null) return null;
    sum += line.gPerDay;
  }
  return sum;
}
