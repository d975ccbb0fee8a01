import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import type { TimedEntry } from "./layouts/day-runs.js";
import { findNightDates } from "./layouts/find-night-dates.js";
import { looksLikeTwelveHours, maybeTwelveHours } from "./layouts/twelve-hours.js";
import type { RawRow } from "./raw-table.js";
import { type DoubtTime, readTotalRow, type TotalPlan } from "./read-total-row.js";
import type { Rows } from "./rows.js";

/** How many rows of a file are looked at before it is decided whether its clock has twelve hours. */
export const HEAD = 2000;

export const saysHalf = (text: string) => /\d\s*[ap]\.?m\b/i.test(text);
export const saysOffset = (text: string) => /Z$|:\d\d[+-]\d\d:?\d\d$/i.test(text);

/** An instant as the day and minute of the study's zone at which it was written down. */
export function timedEntry(at: number, zone: string, of: Omit<TimedEntry, "day" | "minute">) {
  const local = toLocal(at, zone);
  const day = Math.floor(local / dayMs);
  return { ...of, day, minute: Math.floor((local - day * dayMs) / minuteMs) };
}

/**
 * What must be asked of a file that is added up row by row, from the rows at
 * its beginning: the same as of a file that is read whole.
 */
export function doubtfulTimes(rows: Rows<RawRow>, plan: TotalPlan): DoubtTime | null {
  const { zone } = plan.at.how;
  // The order of rows tells, whoever they are of.
  const anybody = { ...plan, knownAnimals: null };
  const read = rows.flatMap(({ cells, broken, line }, i) => {
    const row = readTotalRow(cells, broken ?? null, line, anybody);
    if (row === null || "reason" in row || !row.timed) return [];
    const of = { whose: row.animal, kind: row.kind, row: line };
    return [{ i, text: cells[plan.at.index] ?? "", entry: timedEntry(row.at, zone, of) }];
  });
  const head = read.filter(({ i, text }) => i < HEAD && !saysOffset(text)).map((r) => r.entry);
  const told = rows.slice(0, HEAD).some(({ cells }) => saysHalf(cells[plan.at.index] ?? ""));
  if (!told && maybeTwelveHours(head) && looksLikeTwelveHours(head))
    return ({ timed }, text) =>
      timed && !saysOffset(text) ? "records-half-of-day-doubtful" : null;
  const found = findNightDates(read.map((r) => r.entry));
  if (found === null) return null;
  const { until, behind, odd } = found;
  const lines = new Set([...odd, ...(until === null ? behind : [])].map((e) => e.row));
  return (row, _, line) => {
    const { minute } = timedEntry(row.at, zone, { whose: "", row: line });
    const asked = lines.has(line) || (until !== null && row.timed && minute < until);
    return asked ? "records-night-date-doubtful" : null;
  };
}
