import { type Notice, notice } from "../core/notice.js";
import type { BoundedArrival } from "./bounded-arrival.js";
import type { PairEstimate } from "./pair-estimate.js";

/** What a comparison rests on whose arrival nearly tells the season: shrunken slopes on arrival. */
export interface ArrivalNearSeason extends Pick<BoundedArrival, "inflation" | "bias" | "borrowed"> {
  /** The freely adjusted difference, beside it. */
  readonly freely: PairEstimate & { readonly level: number };
}

/** Null where arrival does not nearly tell the season. */
export function arrivalNearSeason(
  bounded: BoundedArrival | null,
  free: PairEstimate,
  level: number,
): ArrivalNearSeason | null {
  if (bounded === null) return null;
  const { inflation, bias, borrowed } = bounded;
  return { inflation, bias, borrowed, freely: { ...free, level } };
}

/** Said of it in words: what was taken of arrival, and the answer with any effect of it. */
export function arrivalSentence(from: string, to: string, arrival: ArrivalNearSeason): Notice {
  const { bias, borrowed, freely } = arrival;
  return notice("season-arrival-nearly-season", "caution", {
    from,
    to,
    bias,
    nurseries: borrowed?.nurseries ?? 0,
    animals: borrowed?.animals ?? 0,
    perDay: 100 * (borrowed?.perDay ?? 0),
    sd: 100 * (borrowed?.sd ?? 0),
    share: 100 * (borrowed?.share ?? 0),
    freely: freely.difference,
    lower: freely.lower,
    upper: freely.upper,
  });
}
