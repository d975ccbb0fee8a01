import { sameContent } from "../core/same-content.js";
import type { FeedRow, SeriesFeed } from "./animal-series.js";

const { is } = Object;

/**
 * `sameContent` of two readings of a feed, each field asked for by its name, which takes less
 * time than going through whatever fields there are: every feed of a study is held against
 * that of the day before.
 *
 * @param before two feeds that say the same: what these share with them is not looked into.
 */
export function sameFeed(
  a: SeriesFeed,
  b: SeriesFeed,
  before: readonly [SeriesFeed, SeriesFeed] | null = null,
): boolean {
  const [one, other] = before ?? [null, null];
  const isHeldAlike = one?.composition === a.composition && other?.composition === b.composition;
  return (
    is(a.at, b.at) &&
    is(a.feedingDay, b.feedingDay) &&
    is(a.offeredG, b.offeredG) &&
    is(a.eatenG, b.eatenG) &&
    is(a.eatenLowG, b.eatenLowG) &&
    is(a.eatenHighG, b.eatenHighG) &&
    is(a.densityGPerMl, b.densityGPerMl) &&
    is(a.dietId, b.dietId) &&
    is(a.batchAgeH, b.batchAgeH) &&
    is(a.useByH, b.useByH) &&
    sameRow(a.row, b.row) &&
    (isHeldAlike || sameContent(a.composition, b.composition)) &&
    sameContent(a.slip, b.slip) &&
    sameContent(a.decision, b.decision)
  );
}

function sameRow(a: FeedRow, b: FeedRow): boolean {
  return (
    is(a.at, b.at) &&
    is(a.animalId, b.animalId) &&
    is(a.groupId, b.groupId) &&
    is(a.dietId, b.dietId) &&
    is(a.batchId, b.batchId) &&
    is(a.offeredG, b.offeredG) &&
    is(a.refusedG, b.refusedG) &&
    is(a.route, b.route) &&
    is(a.notes, b.notes) &&
    is(a.origin.file, b.origin.file) &&
    is(a.origin.line, b.origin.line) &&
    is(a.origin.cell, b.origin.cell) &&
    sameContent(a.unread, b.unread)
  );
}
