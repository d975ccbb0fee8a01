import { isCivilDate } from "./calendar.js";

/**
 * The one day that a text can mean; null where it may be two, or none.
 *
 * @example nearestDay("31.1.2026") // "2026-01-31"
 * @example nearestDay("3.4.2025") // null
 */
export function nearestDay(text: string): string | null {
  const two = (part: string) => part.padStart(2, "0");
  const yearFirst = /^\D*(\d{4})\D?(\d{1,2})\D?(\d{1,2})\D*$/.exec(text);
  const yearLast = /^\D*(\d{1,2})\D(\d{1,2})\D(\d{4})\D*$/.exec(text);
  const [, a = "", b = "", c = ""] = yearFirst ?? [];
  const [, d = "", e = "", f = ""] = yearLast ?? [];
  const days = [
    ...(yearFirst === null ? [] : [`${a}-${two(b)}-${two(c)}`]),
    ...(yearLast === null ? [] : [`${f}-${two(e)}-${two(d)}`, `${f}-${two(d)}-${two(e)}`]),
  ].filter(isCivilDate);
  return new Set(days).size === 1 ? days[0]! : null;
}
