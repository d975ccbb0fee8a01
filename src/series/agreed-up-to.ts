import { sameContent } from "../core/same-content.js";
import type { AnimalSeries, Instant } from "./animal-series.js";
import { sameFeed } from "./same-feed.js";
import { sameSign } from "./signs/same-sign.js";

/**
 * Up to when two readings of one animal's history say the same: the instant of the first row
 * that differs, or that only one of them has; Infinity where none does. What stands for the
 * whole stay (species, admission, birth) is the same or nothing is: then -Infinity. How and
 * when the stay ended is not looked at, nor what is told of the history as a whole.
 *
 * @example agreedUpTo(series, { ...series, feeds: series.feeds.slice(0, -1) }) // instant of the last feed
 */
export function agreedUpTo(a: AnimalSeries, b: AnimalSeries): Instant {
  if (a === b) return Number.POSITIVE_INFINITY;
  if (!sameContent(stayOf(a), stayOf(b))) return Number.NEGATIVE_INFINITY;
  return Math.min(
    firstUnlike(a.weighings, b.weighings),
    firstUnlike(a.daily, b.daily),
    firstUnlike(a.feeds, b.feeds, sameFeed),
    firstUnlike(a.sharedFeeds, b.sharedFeeds),
    firstUnlike(a.signs, b.signs, sameSign),
    firstUnlike(a.orders.lines.map(fromIt), b.orders.lines.map(fromIt)),
  );
}

/** An order holds from its beginning on; one line that differs may move what all later ones do. */
const fromIt = <Line extends { readonly from: Instant }>(line: Line) => ({ at: line.from, line });

function stayOf({ animal, age, span, orders }: AnimalSeries) {
  const { outcome, outcomeReason, outcomeDate, ...stay } = animal;
  return { stay, age, from: span?.from, zone: orders.zone, startHour: orders.startHour };
}

interface AtInstant {
  readonly at: Instant;
}

/** The instant of the first row, of rows in order of time, that differs. */
function firstUnlike<Row extends AtInstant>(
  a: readonly Row[],
  b: readonly Row[],
  isSame: (a: Row, b: Row, before: readonly [Row, Row] | null) => boolean = sameContent,
): Instant {
  const n = Math.min(a.length, b.length);
  let i = 0;
  while (i < n && isSame(a[i]!, b[i]!, i === 0 ? null : [a[i - 1]!, b[i - 1]!])) i++;
  const at = (rows: readonly Row[]) => rows[i]?.at ?? Number.POSITIVE_INFINITY;
  return Math.min(at(a), at(b));
}
