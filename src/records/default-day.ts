import { feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import type { Instant, ReadRow, Study } from "./study.js";

/**
 * A row that nothing lies near to within this time does not say which day it is; and
 * records that ended longer than this before the clock tell of then, not of now.
 */
export const NEAR_MS = 36 * hourMs;

export interface DefaultDay {
  /** Feeding day of the newest row that stands with others; null without any row. */
  readonly day: string | null;
  /** The instant of that row. */
  readonly at: Instant | null;
  /** Rows later than the clock; 0 without a clock. */
  readonly afterClock: number;
  /** Where the first of them stand: at most three. */
  readonly firstAfterClock: readonly string[];
  /** True where most rows lie after the clock: then the clock is wrong and was not used. */
  readonly clockDoubted: boolean;
}

/**
 * The day that pages are about when nobody names one: that of the newest
 * weighing, feed or observation that is not after the clock and lies within
 * 36 h of another one (where rows are sparser, within three times their usual
 * step). Plans never move it, and neither does a stray date.
 *
 * @param now the clock; without it, "not after the clock" is not asked.
 * @example defaultDay(study, { now: Date.now() }).day // "2024-09-21"
 */
export function defaultDay(study: Study, options: { readonly now?: Instant } = {}): DefaultDay {
  const { zone, feedingDayStartHour } = study.settings;
  const { weighings, feeds, observations } = study.tables;
  const tables: readonly Iterable<Dated>[] = [weighings, feeds, observations];
  const all = new Float64Array(weighings.length + feeds.length + observations.length);
  let n = 0;
  for (const rows of tables) for (const row of rows) all[n++] = row.at;
  all.sort();
  const { now } = options;
  const after = now === undefined ? 0 : all.length - all.filter((at) => at <= now).length;
  const firstAfterClock =
    now === undefined || after === 0
      ? []
      : tables
          .flatMap((rows) => firstAfter(rows, now, 3))
          .slice(0, 3)
          .map(({ origin }) => `${origin.file} line ${origin.line}`);
  const clockDoubted = after > all.length / 2;
  const past = clockDoubted ? all : all.slice(0, all.length - after);
  const at = newestAmongOthers(past);
  return {
    day: at === null ? null : feedingDayOf(at, zone, feedingDayStartHour),
    at,
    afterClock: after,
    firstAfterClock,
    clockDoubted,
  };
}

type Dated = Pick<ReadRow, "origin"> & { readonly at: Instant };

function firstAfter(rows: Iterable<Dated>, now: Instant, most: number): Dated[] {
  const found: Dated[] = [];
  for (const row of rows) {
    if (row.at > now) found.push(row);
    if (found.length === most) break;
  }
  return found;
}

/** The newest of sorted instants that has another near it; the newest of all where none has. */
export function newestAmongOthers(
  sorted: ArrayLike<number>,
  step: number = usualStep(sorted),
): number | null {
  const near = Math.max(NEAR_MS, 3 * step);
  for (let i = sorted.length - 1; i >= 1; i--)
    if (sorted[i]! - sorted[i - 1]! <= near) return sorted[i]!;
  return sorted[sorted.length - 1] ?? null;
}

/** How far a date of the past may stand alone before it is doubted. */
const ALONE_MS = 30 * dayMs;

/**
 * Those of sorted instants that stand alone: later than the newest that has another
 * near it, or further from every other than a month (or six usual steps).
 * Nothing is said of fewer than six.
 */
export function standAlone(sorted: Float64Array, step: number = usualStep(sorted)): Set<number> {
  const strays = new Set<number>();
  if (sorted.length < 6) return strays;
  const newest = newestAmongOthers(sorted, step)!;
  const alone = Math.max(ALONE_MS, 6 * step);
  for (let i = 0; i < sorted.length; i++) {
    const before = i === 0 ? Number.POSITIVE_INFINITY : sorted[i]! - sorted[i - 1]!;
    const behind = i + 1 === sorted.length ? Number.POSITIVE_INFINITY : sorted[i + 1]! - sorted[i]!;
    if (sorted[i]! > newest || Math.min(before, behind) > alone) strays.add(sorted[i]!);
  }
  return strays;
}

/** The middle of the steps between different instants; 0 for fewer than two. */
export function usualStep(sorted: ArrayLike<number>): number {
  const steps = new Float64Array(sorted.length);
  let count = 0;
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 0) steps[count++] = step;
  }
  const different = steps.subarray(0, count).sort();
  return different[count >> 1] ?? 0;
}
