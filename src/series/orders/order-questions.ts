import { type Notice, notice } from "../../core/notice.js";
import { mentionsNilByMouth, saysMoreThanNil } from "../../records/order-words.js";
import { dayMs } from "../../units/day-ms.js";
import type { DayOrder } from "./day-order.js";
import { lineWords } from "./line-words.js";
import type { OrderLine } from "./order-line.js";
import { type OrderInForce, orderAt } from "./order-steps.js";
import type { AnimalOrders, UnusedOrder } from "./orders-of.js";

/**
 * What must be said of the orders in force on a day, and what must be asked
 * before they are followed: the gravest first. Bounds of amounts are not looked
 * at here, only what was written and what was not.
 *
 * @param now the instant at which the page is made; an order begun in the 24 h
 *   before it is marked new.
 * @example orderQuestions(series.orders, day, now).map((n) => n.code) // ["order-not-ended"]
 */
export function orderQuestions(orders: AnimalOrders, day: DayOrder, now: number): Notice[] {
  const inForce = [day.atStart, ...day.changes.map((step) => step.inForce)];
  const lines = unique(inForce.flatMap((each) => [...each.lines, ...each.nil]));
  const apart = unique(inForce.flatMap((each) => each.notEnded));
  return [
    ...nothingByMouth(orders, day, lines),
    ...day.changes.flatMap((step) => changeInside(step.from, step.inForce)),
    ...notUsed(orders, lines),
    ...lines.flatMap(unreadCells),
    ...apart.map((line) =>
      notice("order-not-ended", "caution", { line: lineWords(line), from: line.from }),
    ),
    ...unique(inForce.flatMap((each) => each.leftStanding)).map((line) =>
      notice("order-left-standing", "caution", { line: lineWords(line) }),
    ),
    ...sameDietTwice(lines),
    ...orders.repeated
      .filter((line) => lines.includes(line))
      .map((line) => notice("order-stands-twice", "caution", { line: lineWords(line) })),
    ...ended(day.atStart),
    ...replacedBeforeItsEnd(orders, day),
    ...lines.flatMap(timesAndNumber),
    ...day.uncounted.flatMap(({ line, why }) =>
      why === "days not read"
        ? [
            notice("order-days-unread", "caution", {
              line: lineWords(line),
              words: line.daysWords ?? "",
            }),
          ]
        : [],
    ),
    ...day.notToday.map((line) =>
      notice("order-not-today", "info", { line: lineWords(line), days: line.daysWords ?? "" }),
    ),
    ...nothingToday(day),
    ...lines.flatMap(notOrdered),
    ...newOrder(orders, now),
    ...toCome(orders, day),
  ];
}

const unique = <T>(items: readonly T[]) => [...new Set(items)];
const words = (lines: readonly OrderLine[]) => lines.map(lineWords).join("; ");

function nothingByMouth(orders: AnimalOrders, day: DayOrder, lines: readonly OrderLine[]) {
  const found: Notice[] = [];
  const { atStart } = day;
  if (atStart.state === "nil by mouth") {
    const { since: from, nil } = atStart;
    const to = nil[0]?.to ?? null;
    const zero = nil.some((line) => line.means === "zero");
    found.push(
      notice(zero ? "order-zero" : "order-nil-by-mouth", "problem", {
        from,
        to: to !== null && to < day.to ? to : null,
        line: words(nil),
        written: nil.map((line) => line.nilWords).join(", "),
      }),
    );
    for (const { nilWords, means } of nil)
      if (means === "nil by mouth" && nilWords !== null && saysMoreThanNil(nilWords))
        found.push(notice("order-nil-says-more", "problem", { words: nilWords }));
  }
  for (const since of unique(lines.filter((l) => l.means !== "feed").map((l) => l.from))) {
    const both = orders.lines.filter((l) => l.from === since && l.means === "feed");
    const nil = lines.some((l) => l.from === since && l.means === "nil by mouth");
    if (nil && both.length > 0)
      found.push(notice("order-nil-and-feed", "problem", { line: words(both) }));
  }
  for (const line of lines)
    if (line.means === "feed" && mentionsNilByMouth(line.notes ?? ""))
      found.push(notice("order-nil-in-notes", "problem", { words: line.notes ?? "" }));
  return found;
}

/** What begins or ends inside the day, with what held until then. */
function changeInside(at: number, after: OrderInForce): Notice[] {
  if (after.state === "nil by mouth")
    return [notice("order-nil-from", "problem", { at, line: words(after.nil) })];
  if (after.since === at)
    return [notice("order-begins-inside", "caution", { at, line: words(after.lines) })];
  const gone = after.ended.filter((line) => line.to === at);
  return gone.length === 0
    ? []
    : [notice("order-ends-inside", "caution", { at, line: words(gone) })];
}

const mostShown = 3;

function notUsed(orders: AnimalOrders, lines: readonly OrderLine[]): Notice[] {
  const told = (row: UnusedOrder) =>
    notice("order-not-used", "problem", { words: row.words, file: row.file, line: row.line });
  const twin = (row: UnusedOrder) =>
    lines.find((l) => l.file === row.repeats?.file && l.line === row.repeats.line);
  const unused = orders.notUsed.filter((row) => row.repeats === null);
  return [
    ...unused.slice(0, mostShown).map(told),
    ...(unused.length > mostShown
      ? [notice("order-not-used-more", "caution", { count: unused.length - mostShown })]
      : []),
    ...orders.notUsed.flatMap((row) => {
      const line = twin(row);
      return line === undefined
        ? []
        : [notice("order-stands-twice", "caution", { line: lineWords(line) })];
    }),
  ];
}

function unreadCells(line: OrderLine): Notice[] {
  return line.unread
    .filter(({ column }) => column !== "days")
    .map(({ column, words: written }) =>
      notice(column === "to" ? "order-end-unread" : "order-cell-unread", "caution", {
        column,
        words: written,
        diet: line.dietId,
      }),
    );
}

/**
 * Two lines of one diet in one order whose times do not tell them apart. A day
 * line and a night line both count; the same number of feeds, or the same
 * amount, looks like a correction that left the old line standing.
 */
function sameDietTwice(lines: readonly OrderLine[]): Notice[] {
  const found: Notice[] = [];
  lines.forEach((a, i) => {
    for (const b of lines.slice(i + 1)) {
      if (a.from !== b.from || a.dietId !== b.dietId) continue;
      if (a.means !== "feed" || b.means !== "feed") continue;
      if (a.daysWords !== b.daysWords) continue;
      const shared = a.times.filter((time) => b.times.includes(time));
      const untold = a.times.length === 0 || b.times.length === 0;
      const alike = a.feedsOrdered === b.feedsOrdered || a.perFeed === b.perFeed;
      if (shared.length > 0 || (untold && alike))
        found.push(
          notice("order-same-diet-twice", "caution", { diet: a.dietId, line: words([a, b]) }),
        );
    }
  });
  return found;
}

/** The newest order, or part of it, has ended and nothing revives. */
function ended(order: OrderInForce): Notice[] {
  if (order.ended.length === 0) return [];
  const code = order.lines.length > 0 ? "order-part-ended" : "order-ended";
  const ends = order.ended.map((line) => line.to ?? 0);
  return [
    notice(code, "caution", {
      line: words(order.ended),
      at: Math.max(...ends),
      before: order.before.length === 0 ? null : words(order.before),
    }),
  ];
}

/** A line of the order before whose written end is still to come: said, since it was replaced. */
function replacedBeforeItsEnd(orders: AnimalOrders, day: DayOrder): Notice[] {
  const { since, lines, nil, before } = orderAt(orders, day.to - 1);
  if (since === null) return [];
  return before
    .filter((l) => l.to !== null && l.to > Math.max(since, day.from) && !lines.includes(l))
    .map((line) =>
      notice("order-replaced", "info", {
        line: lineWords(line),
        to: line.to!,
        since,
        nil: nil.length > 0,
      }),
    );
}

function timesAndNumber(line: OrderLine): Notice[] {
  const { times, feedsOrdered } = line;
  if (times.length === 0 || feedsOrdered === null || feedsOrdered === times.length) return [];
  const code = times.length < feedsOrdered ? "order-times-fewer" : "order-times-more";
  return [
    notice(code, "caution", {
      diet: line.dietId,
      times,
      count: times.length,
      ordered: feedsOrdered,
    }),
  ];
}

function notOrdered(line: OrderLine): Notice[] {
  if (line.means !== "feed") return [];
  const { dietId, perFeed, perDay, feedsOrdered, times, unread } = line;
  const has = (column: string) => unread.some((cell) => cell.column === column);
  return [
    ...(perFeed === null && perDay === null
      ? [notice("order-no-amount", "caution", { diet: dietId })]
      : []),
    ...(feedsOrdered === null && times.length === 0 && !has("feeds_per_day") && !has("feed_times")
      ? [notice("order-no-number", "caution", { diet: dietId })]
      : []),
  ];
}

/** Lines are in force, and every one of them is for other days: that may be meant, or forgotten. */
function nothingToday(day: DayOrder): Notice[] {
  const some = day.feeds.length + day.uncounted.length > 0;
  const fed = day.atStart.state === "ordered" && day.changes.length === 0;
  return some || !fed || day.notToday.length === 0
    ? []
    : [notice("order-nothing-today", "problem", { line: words(day.notToday) })];
}

/** An order begun in the last 24 h is new; what it replaced stands beside it. */
function newOrder(orders: AnimalOrders, now: number): Notice[] {
  const { since, before, state } = orderAt(orders, now);
  if (since === null || state === "no order" || now - since >= dayMs) return [];
  return [
    notice("order-new", "info", {
      since,
      before: before.length === 0 ? null : words(before),
    }),
  ];
}

/** Nothing is in force, but an order begins later. */
function toCome(orders: AnimalOrders, day: DayOrder): Notice[] {
  const next = orders.steps.find((step) => step.from >= day.to);
  const none = day.atStart.state !== "ordered" && day.changes.length === 0;
  return next === undefined || !none
    ? []
    : [notice("order-comes", "info", { at: next.from, line: words(next.inForce.lines) })];
}
