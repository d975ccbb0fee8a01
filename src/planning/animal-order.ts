import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, DayOrder, OrderLine, UnusedOrder } from "../series/animal-series.js";
import { lineInShort, lineWords } from "../series/orders/line-words.js";
import { amountUnread } from "../series/orders/order-line.js";
import { orderQuestions } from "../series/orders/order-questions.js";
import { dayMs } from "../units/day-ms.js";
import type { OrderDoubt } from "./order-doubts.js";
import { usualHours } from "./usual-feeds.js";

/** A line of an order as a page prints it. */
export interface PrintedLine {
  readonly words: string;
  /** Without times and notes, for a narrow cell. */
  readonly short: string;
  /** Since when, until when, by whom. */
  readonly since: Notice;
  /** Printed as "460 g ? ask". */
  readonly doubted: boolean;
}

/** What is ordered for one animal on a day, ready to print. */
export interface AnimalOrder {
  readonly state: "ordered" | "nothing by mouth" | "no order";
  /** Dangers, doubts and questions, then what is new: the gravest first. */
  readonly said: readonly Notice[];
  readonly lines: readonly PrintedLine[];
  /** Any feed is ordered without a time. */
  readonly timesOpen: boolean;
  /** Usual hours where times are not ordered: habit, no order. */
  readonly usual: { readonly times: readonly string[]; readonly days: number };
}

const rank = { problem: 0, caution: 1, info: 2 } as const;

/**
 * Everything a page must say of the orders for a day. "No order in the file" is
 * said only where the file has no line for the animal at all.
 *
 * @param series the history up to `at`, nothing later.
 * @param ofNobody lines of orders that name no animal of the study.
 * @example animalOrder(series, day, doubts, at).lines[0]?.words // "milk: 46 g a feed, 12 feeds a day"
 */
export function animalOrder(
  series: AnimalSeries,
  day: DayOrder,
  doubts: readonly OrderDoubt[],
  at: number,
  ofNobody: readonly UnusedOrder[] = [],
): AnimalOrder {
  const { orders } = series;
  const states = [day.atStart, ...day.changes.map((step) => step.inForce)];
  const lines = [...new Set(states.flatMap((each) => each.lines))];
  const nil = day.atStart.state === "nil by mouth";
  const nothing = lines.length === 0 && !states.some((each) => each.nil.length > 0);
  const inFile = orders.lines.length + orders.notUsed.length > 0;
  const said = [
    ...doubts.map((doubt) => doubt.why),
    ...orderQuestions(orders, day, at),
    ...(nothing && !inFile ? [notice("order-none", "problem")] : []),
    ...(nothing ? ofNobody.slice(0, 3).map(nobodys) : []),
    ...(nothing ? [fedLastDay(series, at)] : []),
  ];
  const untimed = [...day.feeds.filter((f) => f.at === null).map((f) => f.line)];
  const timesOpen = untimed.length > 0 || day.uncounted.some((u) => u.line.times.length === 0);
  return {
    state: nil ? "nothing by mouth" : lines.length > 0 ? "ordered" : "no order",
    said: said
      .map((each, i) => ({ each, i }))
      .sort((a, b) => rank[a.each.level] - rank[b.each.level] || a.i - b.i)
      .map(({ each }) => each),
    lines: lines.map((line) => printed(line, doubts)),
    timesOpen,
    usual: timesOpen ? usualHours(series, at, orders.zone) : { times: [], days: 0 },
  };
}

function printed(line: OrderLine, doubts: readonly OrderDoubt[]): PrintedLine {
  const { from, to, orderedBy: by } = line;
  return {
    words: lineWords(line),
    short: lineInShort(line),
    since: notice("order-since", "info", { from, to, by }),
    doubted: isDoubted(line, doubts),
  };
}

/** Whether a line is out of bounds, or has an amount that could not be read. */
export function isDoubted(line: OrderLine, doubts: readonly OrderDoubt[]): boolean {
  return amountUnread(line) || doubts.some((doubt) => doubt.lines.includes(line));
}

/**
 * The amount of a feed as it stands in a cell: as ordered, "46 g"; "460 ? ask"
 * where it must be asked about first; blank where none is ordered.
 */
export function printedAmount(line: OrderLine, doubts: readonly OrderDoubt[]): string {
  const amount = line.perFeed ?? "";
  return isDoubted(line, doubts) ? `${amount.replace(/ g$/, "")} ? ask`.trim() : amount;
}

function nobodys(row: UnusedOrder): Notice {
  const { words, file, line } = row;
  return notice("order-of-nobody", "problem", { words, file, line });
}

function fedLastDay(series: AnimalSeries, at: number): Notice {
  const fed = series.feeds.filter((f) => f.at > at - dayMs && f.at <= at);
  const offered = fed.reduce((sum, f) => sum + f.offeredG, 0);
  return notice("order-as-fed", "info", { feeds: fed.length, offered });
}
