import { noticeText } from "../../core/catalogue.js";
import { notice } from "../../core/notice.js";
import type { OrderLine } from "./order-line.js";

/**
 * A line of an order in words, as ordered, without its dates.
 *
 * @example lineWords(line) // "milk: 46 g a feed, 12 feeds a day, times not ordered"
 */
export function lineWords(line: OrderLine): string {
  return noticeText(
    notice("order-line", "info", {
      means: line.means,
      diet: line.dietId,
      perFeed: line.perFeed,
      perDay: line.perDay,
      nilWords: line.nilWords,
      feeds: line.feedsOrdered,
      feedsUnread: line.unread.find((cell) => cell.column === "feeds_per_day")?.words ?? null,
      times: line.times,
      timesUnread: line.unread.find((cell) => cell.column === "feed_times")?.words ?? null,
      days: line.daysWords,
      notes: line.notes,
    }),
  );
}
