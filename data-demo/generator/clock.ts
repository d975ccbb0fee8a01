/**
 * The clock of the invented nursery. Its zone is `America/St_Johns`, taken only
 * because its clocks change in spring and autumn and stand on a half hour; the
 * nursery lies nowhere. The rule is written out here (clocks forward on the
 * second Sunday in March at 02:00, back on the first Sunday in November at
 * 02:00, offsets -03:30 and -02:30), so that the bytes of the demo study do not
 * depend on the time-zone data of the machine that makes it.
 */
export const ZONE = "America/St_Johns";

/** Minutes since 1970-01-01T00:00Z. */
export type Minute = number;

const MINUTES_PER_DAY = 1440;
const STANDARD = -210;
const SUMMER = -150;

/** Days since 1970-01-01 of a civil date. */
export function dayNumber(year: number, month: number, day: number): number {
  return Date.UTC(year, month - 1, day) / 86_400_000;
}

/** A day number as `YYYY-MM-DD`. */
export function civilDate(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** The day on which the clocks go forward, and the day on which they go back. */
export function clockChanges(year: number): { readonly spring: number; readonly autumn: number } {
  const firstSunday = (month: number) => {
    const first = dayNumber(year, month, 1);
    return first + ((7 - ((first + 4) % 7)) % 7);
  };
  return { spring: firstSunday(3) + 7, autumn: firstSunday(11) };
}

/** Offset of local time from UTC at an instant, minutes. */
export function offsetAt(at: Minute): number {
  const year = new Date(at * 60_000).getUTCFullYear();
  const { spring, autumn } = clockChanges(year);
  const summerFrom = spring * MINUTES_PER_DAY + 120 - STANDARD;
  const summerTo = autumn * MINUTES_PER_DAY + 120 - SUMMER;
  return at >= summerFrom && at < summerTo ? SUMMER : STANDARD;
}

/**
 * The instant of a local clock time. A time that does not exist (spring) is
 * moved an hour on; of a time that happens twice (autumn) the first is taken
 * unless `second` is set.
 */
export function instantOf(day: number, minuteOfDay: number, second = false): Minute {
  const local = day * MINUTES_PER_DAY + minuteOfDay;
  const summer = local - SUMMER;
  const standard = local - STANDARD;
  const summerFits = offsetAt(summer) === SUMMER;
  const standardFits = offsetAt(standard) === STANDARD;
  if (summerFits && standardFits) return second ? standard : summer;
  if (summerFits) return summer;
  return standard;
}

/** The civil day (day number) on which an instant falls, local. */
export function localDay(at: Minute): number {
  return Math.floor((at + offsetAt(at)) / MINUTES_PER_DAY);
}

/** Local text `YYYY-MM-DD HH:MM`, with the offset where the clock time happens twice. */
export function localText(at: Minute): string {
  const offset = offsetAt(at);
  const local = at + offset;
  const day = Math.floor(local / MINUTES_PER_DAY);
  const minute = local - day * MINUTES_PER_DAY;
  const text = `${civilDate(day)} ${twoDigits(Math.floor(minute / 60))}:${twoDigits(minute % 60)}`;
  const year = Number(text.slice(0, 4));
  const twice = day === clockChanges(year).autumn && minute >= 60 && minute < 120;
  return twice ? `${text}${offset === SUMMER ? "-02:30" : "-03:30"}` : text;
}

function twoDigits(n: number): string {
  return String(n).padStart(2, "0");
}
