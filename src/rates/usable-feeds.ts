import { type Notice, notice } from "../core/notice.js";
import type { LeftOut } from "../core/result.js";
import type { AnimalSeries, SeriesFeed } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { type Bounds, between } from "./bounds.js";

/** A feed that can be counted, with what was eaten between its bounds. */
export interface UsableFeed {
  readonly feed: SeriesFeed;
  readonly at: number;
  readonly eatenG: Bounds;
}

export interface UsableFeeds {
  readonly feeds: readonly UsableFeed[];
  readonly leftOut: readonly LeftOut[];
  readonly notices: readonly Notice[];
}

const halfDayMs = dayMs / 2;

/**
 * The feeds of an animal that can be counted, in order of time. A feed before
 * the earliest birth date or with an offer that is no mass is left out; one
 * whose refusal is above the offer or below zero counts as eaten between
 * nothing and all of the offer. Each such feed is named.
 */
export function usableFeeds(series: AnimalSeries): UsableFeeds {
  const feeds: UsableFeed[] = [];
  const notices: Notice[] = [];
  let beforeBirth = 0;
  let noMass = 0;
  // Ages count from noon of the birth date: a feed on its morning is not before birth.
  const birth = series.age.birthEarliest === null ? null : series.age.birthEarliest - halfDayMs;
  for (const feed of series.feeds) {
    const { offeredG } = feed;
    const { refusedG } = feed.row;
    const where = () => {
      const { file, line } = feed.row.origin;
      return { table: "feeds", file, line, animal: series.animal.animalId };
    };
    if (birth !== null && feed.at < birth) {
      beforeBirth++;
      notices.push(notice("feed-before-birth", "problem", { at: feed.at }, where()));
      continue;
    }
    if (!(offeredG >= 0 && Number.isFinite(offeredG))) {
      noMass++;
      notices.push(notice("feed-offer-impossible", "problem", { offered: offeredG }, where()));
      continue;
    }
    const possible = refusedG === null || (refusedG >= 0 && refusedG <= offeredG);
    // A doubted feed was asked about already, and its range holds all that may have been meant.
    if (!possible && feed.slip === undefined) {
      const parameters = { at: feed.at, offered: offeredG, refused: refusedG };
      notices.push(notice("feed-refusal-impossible", "problem", parameters, where()));
      feeds.push({ feed, at: feed.at, eatenG: between(0, offeredG) });
      continue;
    }
    feeds.push({ feed, at: feed.at, eatenG: between(feed.eatenLowG, feed.eatenHighG) });
  }
  const leftOut: LeftOut[] = [];
  if (beforeBirth > 0)
    leftOut.push({ reason: "before the earliest birth date", count: beforeBirth });
  if (noMass > 0) leftOut.push({ reason: "the offer is no mass", count: noMass });
  return { feeds, leftOut, notices };
}
