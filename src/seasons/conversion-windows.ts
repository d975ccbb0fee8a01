import { feedConversion } from "../rates/feed-conversion.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";

/** What was kept and gained over one window of 14 days, both known. */
export interface ConversionWindow {
  readonly from: number;
  readonly to: number;
  /** Energy kept: eaten less what came up. */
  readonly kcal: number;
  readonly gainedG: number;
}

const conversionDays = 14;

/**
 * The whole windows of 14 days between two instants in which what was kept and what was
 * gained are both known: added up they give the ratio of sums of a group.
 *
 * @example conversionWindows(series, phase.from, phase.to).length // 3
 */
export function conversionWindows(
  series: AnimalSeries,
  from: number,
  to: number,
): readonly ConversionWindow[] {
  const windows: ConversionWindow[] = [];
  for (let at = from + conversionDays * dayMs; at <= to; at += conversionDays * dayMs) {
    const { value } = feedConversion(series, { endAt: at, days: conversionDays });
    // What was kept and gained counts where the window's ratio may be computed at all.
    const kept = value.gainPerFeed.energy.value === null ? null : value.kept.kcal.value;
    if (kept === null) continue;
    const start = at - conversionDays * dayMs;
    windows.push({ from: start, to: at, kcal: kept, gainedG: value.gainedG ?? 0 });
  }
  return windows;
}
