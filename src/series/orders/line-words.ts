import { noticeText } from "../../core/catalogue.js";
import { notice } from "../../core/notice.js";
import type { OrderLine } from "./order-line.js";

/**
 * A line of an order in words, as ordered, without its dates.
 *
 * @example lineWords(line) // "milk: 46 g a feed, 12 feeds a day, times not ordered"
 */
export function lineWords(line: OrderLine): string {
  return noticeText(notice("order-line", "info", { ...given(line), times: line.times }));
}

/**
 * The same in short, for a narrow cell: how often instead of at what times, without notes.
 *
 * @example lineInShort(line) // "milk: 46 g a feed, 12 feeds a day"
 */
export function lineInShort(line: OrderLine): string {
  const feeds = line.feedsOrdered ?? line.feeds;
  return noticeText(
    notice("order-line", "info", { ...given(line), times: [], feeds, notes: null }),
  );
}

const given = (line: OrderLine) => ({
  means: line.means,
  diet: line.dietId,
  perFeed: line.perFeed,
  perDay: line.perDay,
  nilWords: line.nilWords,
  feeds: line.feedsOrdered,
  feedsUnread: line.unread.find((cell) => cell.column === "feeds_per_day")?.words ?? null,
  timesUnread: line.unread.find((cell) => cell.column === "feed_times")?.words ?? null,
  days: line.daysWords,
  notes: line.notes,
});
