import { notice } from "../../core/notice.js";
import { addDays, dateOfNumber } from "../../units/calendar.js";
import type { DateStyle } from "../../units/read-time.js";
import type { RawTable } from "../raw-table.js";
import { columnOf, textAt, withCell } from "./changed-cells.js";
import { dayRuns, goingBack, type TimedEntry } from "./day-runs.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised, TableRoles } from "./recognised.js";
import { dayTextOf, timedEntries } from "./timed-entries.js";

const EVENING = 18 * 60;
const MORNING = 9 * 60;

/**
 * Whether the small hours stand under the date of the evening before: under one
 * date the clock goes back once, from the evening to before the hour at which
 * such runs begin. Gives that hour (minutes), or null.
 */
export function nightUntil(entries: readonly TimedEntry[]): number | null {
  const runs = dayRuns(entries).filter((run) => run.length >= 2);
  const nights = runs.flatMap((run) => {
    const back = goingBack(run);
    const at = back[0];
    return back.length === 1 && at !== undefined && run[at - 1]!.minute >= EVENING
      ? [{ first: run[0]!.minute, late: Math.max(...run.slice(at).map((e) => e.minute)) }]
      : [];
  });
  if (nights.length < 2 || nights.length < 0.2 * runs.length) return null;
  const first = Math.min(...nights.map((n) => n.first));
  const late = Math.max(...nights.map((n) => n.late));
  if (late >= first || first > 12 * 60 || late >= MORNING) return null;
  // A whole hour that parts the two, as near to the morning as may be.
  const hour = Math.floor(first / 60) * 60;
  return hour > late ? hour : late + 1;
}

/** Times before `until` are put under the next date. */
export function applyNightDates(
  raw: RawTable,
  step: StepOf<"night under the evening's date">,
  style: DateStyle,
): RawTable {
  const time = columnOf(raw, step.time);
  const date = columnOf(raw, step.date ?? step.time);
  if (time < 0 || date < 0) return raw;
  const until = Number(step.until.slice(0, 2)) * 60 + Number(step.until.slice(3));
  const early = new Map<number, TimedEntry>();
  for (const entry of timedEntries(raw.rows, { time, date, animal: -1, style }, "read"))
    if (entry.minute < until) early.set(entry.row, entry);
  const rows = raw.rows.map((row, i) => {
    const entry = early.get(i);
    if (entry === undefined || typeof entry.day !== "number") return row;
    const next = addDays(dateOfNumber(entry.day), 1);
    if (time !== date) return withCell(row, date, next);
    const clock = textAt(row, time)
      .slice(dayTextOf(textAt(row, time)).length)
      .replace(/^[,\sT]+/, "");
    return withCell(row, time, `${next} ${clock}`);
  });
  return { ...raw, rows };
}

/** Small hours that stand at the end of the evening's date. */
export function recogniseNightDates(raw: RawTable, roles: TableRoles): Recognised | null {
  const { time, date, animal, study } = roles;
  if (time === undefined || date === undefined) return null;
  const style = study.settings.dateStyle;
  const places = {
    time: columnOf(raw, time),
    date: columnOf(raw, date),
    animal: columnOf(raw, animal),
    style,
  };
  const minutes = nightUntil(timedEntries(raw.rows.slice(0, 2000), places, "read"));
  if (minutes === null) return null;
  const two = (n: number) => String(n).padStart(2, "0");
  const until = `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  return {
    step: {
      layout: "night under the evening's date",
      time,
      ...(date === time ? {} : { date }),
      until,
    },
    why: notice("propose-night-dates", "info", { column: date, until }),
  };
}
