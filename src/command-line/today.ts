import { type CivilDate, dateOfNumber } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";

/**
 * The day on the clock and calendar of this machine.
 *
 * @example today(new Date(2025, 4, 2, 0, 30)) // "2025-05-02", whatever day it is in London
 */
export function today(now = new Date()): CivilDate {
  return dateOfNumber(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / dayMs);
}
