import { notice } from "../../core/notice.js";
import type { DateStyle } from "../../units/read-time.js";
import type { RawRow, RawTable } from "../raw-table.js";
import { ownRow } from "../text-row.js";
import { columnOf, textAt, withCell } from "./changed-cells.js";
import { type DayRun, dayRuns, goingBack, type TimedEntry } from "./day-runs.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised, TableRoles } from "./recognised.js";
import { dayTextOf, timedEntries } from "./timed-entries.js";

const NOON = 720;

/**
 * Whether entries look written with a clock of twelve hours and neither am nor
 * pm: no hour above 12 or at 0, and under one date the clock goes back once
 * (after 11:30 comes 1:30) or shows the same times twice.
 */
export function looksLikeTwelveHours(entries: readonly TimedEntry[]): boolean {
  if (entries.length < 6 || !maybeTwelveHours(entries)) return false;
  const runs = dayRuns(entries).filter((run) => run.length >= 2);
  const odd = runs.filter(
    (run) => (goingBack(run).length > 0 && goingBack(facesOf(run)).length === 1) || twice(run) >= 2,
  );
  return odd.length >= 2 && odd.length >= 0.3 * runs.length;
}

/** Whether no hour is above 12 or at 0: nothing speaks against a clock of twelve hours. */
export function maybeTwelveHours(entries: readonly TimedEntry[]): boolean {
  return entries.length >= 3 && entries.every((e) => e.minute >= 60 && e.minute < 13 * 60);
}

/** Minutes since the clock last showed twelve. */
const facesOf = (run: DayRun) => run.map((e) => ({ minute: e.minute % NOON }));

/** How many clock times stand twice in a run. */
const twice = (run: DayRun) => run.length - new Set(run.map((e) => e.minute)).size;

/**
 * The minute of the day for each entry of a run whose clock shows twelve hours:
 * in the order of the rows time only goes forward, so a clock that goes back
 * has passed noon. Null where it never goes back or does so twice: either half
 * of the day may be meant, and neighbours on other days do not tell which (they
 * read evening weighings as morning ones).
 */
export function halvesOf(run: DayRun): number[] | null {
  const face = facesOf(run);
  const back = goingBack(face);
  if (back.length !== 1) return null;
  return face.map(({ minute }, i) => (i >= back[0]! ? minute + NOON : minute));
}

/**
 * Whether a page may be an evening and the night behind it, under one date, as
 * well as a morning and an afternoon.
 */
function maybeNight(run: DayRun): boolean {
  const face = facesOf(run);
  const at = goingBack(face)[0]!;
  const last = Math.max(...face.slice(at).map((e) => e.minute));
  return face[at - 1]!.minute >= NOON / 2 && last < 9 * 60;
}

/**
 * Writes clock times of twelve hours out in full. Rows whose half of the day
 * their order does not tell are marked, to be set aside and asked about.
 */
export function applyTwelveHours(
  raw: RawTable,
  step: StepOf<"twelve hours">,
  style: DateStyle,
): RawTable {
  const time = columnOf(raw, step.time);
  const date = columnOf(raw, step.date ?? step.time);
  const animal = columnOf(raw, step.animal);
  if (time < 0 || date < 0) return raw;
  const runs = dayRuns(timedEntries(raw.rows, { time, date, animal, style }, "left out"));
  const mixed = outOfOrder(runs);
  const minuteOf = new Map<number, number | null>();
  // A page that passes twelve twice goes on past midnight: then a shorter one may, too.
  const nights = runs.some((run) => goingBack(facesOf(run)).length === 2);
  for (const run of runs) {
    const halves = mixed.has(run[0]!.whose) ? null : halvesOf(run);
    const minutes = halves !== null && nights && maybeNight(run) ? null : halves;
    for (const [k, entry] of run.entries()) minuteOf.set(entry.row, minutes?.[k] ?? null);
  }
  const two = (n: number) => String(n).padStart(2, "0");
  const rows = raw.rows.map((row, i) => {
    const minute = minuteOf.get(i);
    if (minute === undefined) return row;
    if (minute === null) {
      const fault: NonNullable<RawRow["fault"]> = {
        index: time,
        reason: "records-half-of-day",
        todo: "suggest-half-of-day",
      };
      return { ...ownRow(row), fault };
    }
    const clock = `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
    return withCell(row, time, time === date ? `${dayTextOf(textAt(row, time))} ${clock}` : clock);
  });
  return { ...raw, rows };
}

/** Whose entries do not stand in the order of time: it tells nothing about the half of the day. */
function outOfOrder(runs: readonly DayRun[]): ReadonlySet<string> {
  const streams = new Map<string, DayRun[]>();
  for (const run of runs) {
    const own = streams.get(run[0]!.whose);
    if (own === undefined) streams.set(run[0]!.whose, [run]);
    else own.push(run);
  }
  const mixed = new Set<string>();
  for (const [whose, own] of streams) {
    const days = own.map((run) => run[0]!.day);
    const back = days.filter((day, i) => i > 0 && day < days[i - 1]!).length;
    const again = days.length - new Set(days).size;
    if (back + again > 0.05 * days.length) mixed.add(whose);
  }
  return mixed;
}

/**
 * A clock of twelve hours without am and pm, to be read by the order of the
 * rows. `elsewhere` says that another file of the study has one: then a file
 * that says nothing against it has one too.
 */
export function recogniseTwelveHours(
  raw: RawTable,
  roles: TableRoles,
  elsewhere: boolean,
): Recognised | null {
  const { time, date, animal, study } = roles;
  if (time === undefined || date === undefined) return null;
  const style = study.settings.dateStyle;
  const places = {
    time: columnOf(raw, time),
    date: columnOf(raw, date),
    animal: columnOf(raw, animal),
    style,
  };
  const entries = timedEntries(raw.rows.slice(0, 2000), places, "left out");
  if (!looksLikeTwelveHours(entries) && !(elsewhere && maybeTwelveHours(entries))) return null;
  const back = dayRuns(entries).filter((run) => goingBack(facesOf(run)).length === 1).length;
  const of = {
    time,
    ...(date === time ? {} : { date }),
    ...(animal === undefined ? {} : { animal }),
  };
  return {
    step: { layout: "twelve hours", ...of },
    why: notice("propose-twelve-hours", "info", { column: time, count: back }),
  };
}
