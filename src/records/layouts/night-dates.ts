import { notice } from "../../core/notice.js";
import { addDays, dateOfNumber } from "../../units/calendar.js";
import type { DateStyle } from "../../units/read-time.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { ownRow } from "../text-row.js";
import { columnOf, textAt, withCell } from "./changed-cells.js";
import type { TimedEntry } from "./day-runs.js";
import { findNightDates } from "./find-night-dates.js";
import type { StepOf } from "./layout-step.js";
import { maybeNights } from "./maybe-nights.js";
import type { Recognised, TableRoles } from "./recognised.js";
import { dayTextOf, rowNames, rowTimes, type TimePlaces, timedEntries } from "./timed-entries.js";

type Step = StepOf<"night under the evening's date">;

/**
 * Times before `until` are put under the next date. Rows whose place among the
 * others says otherwise (above the day of their date, or behind its evening and
 * later than `until`) are marked, to be set aside and asked about.
 */
export function applyNightDates(raw: RawTable, step: Step, style: DateStyle): RawTable {
  const time = columnOf(raw, step.time);
  const date = columnOf(raw, step.date ?? step.time);
  const animal = columnOf(raw, step.animal);
  if (time < 0 || date < 0) return raw;
  const until = Number(step.until.slice(0, 2)) * 60 + Number(step.until.slice(3));
  const entries = timedEntries(raw.rows, { time, date, animal, style }, "read");
  const early = new Map<number, TimedEntry>();
  for (const entry of entries) if (entry.minute < until) early.set(entry.row, entry);
  const odd = animal < 0 ? new Set<number>() : oddRows(entries, until);
  const rows = raw.rows.map((row, i) => {
    if (odd.has(i)) return asked(row, date);
    const entry = early.get(i);
    if (entry === undefined) return row;
    // A night whose date cannot be read is nobody's next day.
    if (typeof entry.day !== "number") return asked(row, date);
    const next = addDays(dateOfNumber(entry.day), 1);
    if (time !== date) return withCell(row, date, next);
    const clock = textAt(row, time)
      .slice(dayTextOf(textAt(row, time)).length)
      .replace(/^[,\sT]+/, "");
    return withCell(row, time, `${next} ${clock}`);
  });
  return { ...raw, rows };
}

function oddRows(entries: readonly TimedEntry[], until: number): ReadonlySet<number> {
  const found = findNightDates(entries);
  if (found === null || found.until === null) return new Set();
  const late = found.behind.filter((e) => e.minute >= until);
  return new Set([...found.odd, ...late].map((e) => e.row));
}

function asked(row: RawRow, index: number): RawRow {
  const fault: NonNullable<RawRow["fault"]> = {
    index,
    reason: "records-night-date",
    todo: "suggest-night-date",
  };
  return { ...ownRow(row), fault };
}

/** Whether the clock goes past midnight anywhere, or a date cannot be read; most files say no at once. */
function maybeNight(raw: RawTable, places: TimePlaces): boolean {
  const [timeOf, namesOf] = [rowTimes(places), rowNames(places)];
  let unread = false;
  const maybe = maybeNights((use) => {
    raw.rows.forEach((row) => {
      const time = timeOf(row);
      if (time === null) return;
      const { whose, kind } = namesOf(row);
      if (typeof time.day === "string") unread = true;
      else use(time.day, time.minute, whose, `${whose}\n${kind}`);
    });
  });
  return maybe || unread;
}

/** Small hours that stand at the end of the evening's date. */
export function recogniseNightDates(raw: RawTable, roles: TableRoles): Recognised | null {
  const { time, date, animal, group, kind, study } = roles;
  if (time === undefined || date === undefined) return null;
  const places = {
    time: columnOf(raw, time),
    date: columnOf(raw, date),
    animal: columnOf(raw, animal),
    group: columnOf(raw, group),
    kind: columnOf(raw, kind),
    style: study.settings.dateStyle,
  };
  if (!maybeNight(raw, places)) return null;
  const entries = timedEntries(raw.rows, places, "read");
  const minutes = findNightDates(entries, roles.order)?.until ?? null;
  if (minutes === null) return null;
  const two = (n: number) => String(n).padStart(2, "0");
  const until = `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  const of = {
    time,
    ...(date === time ? {} : { date }),
    ...(animal === undefined ? {} : { animal }),
  };
  return {
    step: { layout: "night under the evening's date", ...of, until },
    why: notice("propose-night-dates", "info", { column: date, until }),
  };
}
