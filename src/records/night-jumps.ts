import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import { type NumberColumn, WordColumn } from "./draft-columns.js";
import type { DraftRow } from "./draft-row.js";
import { goesPastMidnight } from "./layouts/find-night-dates.js";
import type { Rows } from "./rows.js";

/** The last row of an animal (of a diet, a kind), and where its clock went since the first. */
interface Stream {
  day: number;
  minute: number;
  /** Days back less days on: above 0 the list runs from the newest to the oldest. */
  down: number;
  /** Under one date: the clock goes back at all; it goes past midnight. By order as it stands and turned round. */
  readonly back: [boolean, boolean];
  readonly jump: [boolean, boolean];
}

/**
 * Whether `findNightDates` can find anything among these rows of one file: somewhere
 * the clock of an animal goes back under one date, and of an animal or of one of its
 * diets and kinds past midnight. Most files are told at once, from
 * their columns, that they hold no such night.
 */
export function mayGoPastMidnight(rows: Rows<DraftRow>, zone: string): boolean {
  const table = rows.at(0)?.of;
  if (table === undefined) return false;
  const code = (key: string) => {
    const column = table.columns.get(key);
    return (row: number) => (column instanceof WordColumn ? column.codeAt(row) : 0);
  };
  const [animal, group, diet, kind] = ["animalId", "groupId", "dietId", "kind"].map(code);
  const whose = (row: number) => animal!(row) || group!(row);
  const at = table.columns.get("at") as NumberColumn;
  const times = { rows, zone, at };
  const own = streamsOf(times, (row) => whose(row));
  if (!own.some((stream) => inItsOrder(stream, stream.back))) return false;
  if (own.some((stream) => inItsOrder(stream, stream.jump))) return true;
  // Both numbers are those of words, of which there are fewer than 2 ** 26.
  const both = streamsOf(times, (row) => whose(row) * 2 ** 26 + (diet!(row) || kind!(row)));
  return both.some((stream) => inItsOrder(stream, stream.jump));
}

const inItsOrder = (stream: Stream, [asIs, turned]: readonly [boolean, boolean]) =>
  stream.down > 0 ? turned : asIs;

function streamsOf(
  times: { readonly rows: Rows<DraftRow>; readonly zone: string; readonly at: NumberColumn },
  key: (row: number) => number,
): Stream[] {
  const streams = new Map<number, Stream>();
  for (const draft of times.rows) {
    const instant = times.at.numberAt(draft.at);
    if (Number.isNaN(instant) || !tellsTime(draft)) continue;
    const local = toLocal(instant, times.zone);
    const day = Math.floor(local / dayMs);
    const minute = Math.floor((local - day * dayMs) / minuteMs);
    const name = key(draft.at);
    const stream = streams.get(name);
    if (stream === undefined)
      streams.set(name, { day, minute, down: 0, back: [false, false], jump: [false, false] });
    else step(stream, day, minute);
  }
  return [...streams.values()];
}

/** A row that was not set aside and says the time of the day. */
export const tellsTime = (draft: DraftRow): boolean =>
  draft.fault === null && !draft.notices.some((n) => n.code === "records-time-of-day-missing");

function step(stream: Stream, day: number, minute: number): void {
  const { day: dayBefore, minute: before } = stream;
  stream.down += Math.sign(dayBefore - day);
  if (day === dayBefore) {
    if (minute < before) stream.back[0] = true;
    if (minute > before) stream.back[1] = true;
    if (goesPastMidnight(before, minute)) stream.jump[0] = true;
    if (goesPastMidnight(minute, before)) stream.jump[1] = true;
  }
  stream.day = day;
  stream.minute = minute;
}
