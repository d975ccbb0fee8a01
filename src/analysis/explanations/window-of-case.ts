import type { CivilDate } from "../../series/animal-series.js";
import { addDays, daysBetween } from "../../units/calendar.js";
import type { ChangeOfGain } from "../change-of-gain.js";
import { shortestD } from "./spells-around.js";

/** The days that every number about a slow gain speaks of; `to` is the day looked at. */
export interface WindowOfCase {
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  /** It begins on the day of the change; else it is the last so many days. */
  readonly fromChange: boolean;
}

/** Days where no change stands out, and the longest that is looked over: what the page shows. */
const usualD = 14;
export const longestD = 42;

/**
 * The one window of a slow gain, for the board, the picture, the headline and
 * every rival: from the day of the change to the day looked at, where a change
 * stands out, else the last fortnight; 7 to 42 days.
 *
 * @example windowOfCase("2031-05-20", change) // { from: "2031-05-06", to: "2031-05-20", days: 14, fromChange: false }
 */
export function windowOfCase(onDay: CivilDate, change: ChangeOfGain): WindowOfCase {
  const stands = change.strength === "raised";
  const since = stands && change.since !== null ? daysBetween(change.since, onDay) : null;
  const days = Math.min(longestD, Math.max(shortestD, since ?? usualD));
  return { from: addDays(onDay, -days), to: onDay, days, fromChange: days === since };
}
