import { goesPastMidnight } from "./find-night-dates.js";

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

/** Takes one row: its day and minute, whose it is, and whose and of what together. */
export type UseTime = (
  day: number,
  minute: number,
  whose: string | number,
  both: string | number,
) => void;

/**
 * Whether `findNightDates` can find anything among some rows: somewhere the clock of an
 * animal goes back under one date, and of an animal or of one of its diets and kinds
 * past midnight.
 *
 * @param each hands on every row, in the order in which they stand; asked once or twice.
 */
export function maybeNights(each: (use: UseTime) => void): boolean {
  const own = new Map<string | number, Stream>();
  each((day, minute, whose) => take(own, whose, day, minute));
  const streams = [...own.values()];
  if (!streams.some((stream) => inItsOrder(stream, stream.back))) return false;
  if (streams.some((stream) => inItsOrder(stream, stream.jump))) return true;
  const both = new Map<string | number, Stream>();
  each((day, minute, _, name) => take(both, name, day, minute));
  return [...both.values()].some((stream) => inItsOrder(stream, stream.jump));
}

const inItsOrder = (stream: Stream, [asIs, turned]: readonly [boolean, boolean]) =>
  stream.down > 0 ? turned : asIs;

function take(
  streams: Map<string | number, Stream>,
  name: string | number,
  day: number,
  minute: number,
): void {
  const stream = streams.get(name);
  if (stream === undefined)
    streams.set(name, { day, minute, down: 0, back: [false, false], jump: [false, false] });
  else step(stream, day, minute);
}

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
