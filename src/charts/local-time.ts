import { numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { Instant } from "../units/zone.js";

/**
 * An instant as the number that a time axis takes: the wall clock of the
 * study's zone in milliseconds, read as if it were universal time. So a picture
 * does not depend on the machine's own zone.
 */
export function localNumber(at: Instant, zone: string): number {
  return toLocal(at, zone);
}

/** The beginning of a civil day as that number. @example dayNumber("1970-01-02") // 86400000 */
export function dayNumber(day: string): number {
  return numberOfDate(day) * dayMs;
}
