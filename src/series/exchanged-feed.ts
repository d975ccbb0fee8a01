import type { SeriesFeed, SuspectedFeedSlip } from "./animal-series.js";
import { suspectedFeed } from "./suspected-feed.js";
import type { UsualFeed } from "./usual-feed.js";

/** Up to this ratio to the usual feed a refusal may be the offer, written in the wrong cell. */
const MAY_BE_THE_OFFER = Math.log(1.8);

/** Whether more is written as refused than as offered: one of the two numbers is wrong. */
export function refusedMoreThanOffered(feed: SeriesFeed): boolean {
  return (feed.row.refusedG ?? 0) > feed.offeredG;
}

/**
 * A feed of which more came back than was given. Where the refusal, and not the
 * offer, is what this animal is usually offered the two cells were exchanged;
 * otherwise the refusal cannot be read. What was eaten lies between nothing and the most that either
 * reading allows.
 */
export function exchangedFeed(
  feed: SeriesFeed,
  usual: UsualFeed | null,
  massG: number | null,
): SuspectedFeedSlip {
  const { offeredG } = feed;
  const refusedG = feed.row.refusedG ?? 0;
  const off = (g: number) => Math.abs(Math.log(g) - (usual?.log ?? 0));
  const exchanged =
    usual === null || (off(refusedG) < MAY_BE_THE_OFFER && off(refusedG) < off(offeredG));
  return suspectedFeed(feed, {
    kind: exchanged ? "offered and refused exchanged" : "refusal beyond the offer",
    suggestedG: exchanged ? refusedG : null,
    usualG: usual === null ? null : Math.exp(usual.log),
    massPct: massG === null ? null : (100 * offeredG) / massG,
    eatenLowG: 0,
    eatenHighG: Math.max(offeredG, exchanged ? refusedG - offeredG : 0),
    otherAnimalId: null,
  });
}
