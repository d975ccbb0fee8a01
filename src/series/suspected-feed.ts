import { notice } from "../core/notice.js";
import type { SeriesFeed, SuspectedFeedSlip } from "./animal-series.js";

/** A doubted feed with the sentence that asks about it, at its row. */
export function suspectedFeed(
  feed: SeriesFeed,
  slip: Omit<SuspectedFeedSlip, "why">,
): SuspectedFeedSlip {
  const { file, line } = feed.row.origin;
  return {
    ...slip,
    why: notice(
      "series-suspected-feed",
      "caution",
      { ...slip, at: feed.at, offeredG: feed.offeredG },
      { table: "feeds", file, line, animal: feed.row.animalId ?? "" },
    ),
  };
}
