import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { type GainBetween, gainBetween } from "./gain-between.js";
import { type GainOverWindow, type GainWindowOptions, gainOverWindow } from "./gain-over-window.js";
import { serialStretches, sumStretches } from "./serial-evidence.js";

export interface DailyGain {
  readonly feedingDay: CivilDate;
  readonly at: number;
  readonly massG: number;
  readonly ageD: number | null;
  /** Since the weighed day before; null on the first. */
  readonly sinceLast: GainBetween | null;
  /** Over the window that ends with this weighing. */
  readonly overWindow: GainOverWindow;
}

/**
 * The gain of one animal on each weighed day: since the weighed day before, and
 * over the window ending that day (default 7 d). Each row uses data up to its
 * own instant only. Standard errors and 95 % intervals over the window allow for
 * errors of neighbouring days that hang together, as far as the animal's own
 * weighings before the window tell (`errors: "independent"` turns that off).
 *
 * @example dailyGains(otter).at(-1)?.overWindow.gain.value // 65.23
 */
export function dailyGains(
  series: AnimalSeries,
  options: Omit<GainWindowOptions, "endAt"> = {},
): readonly DailyGain[] {
  const errors = options.errors ?? "serial";
  const stretches = errors === "serial" ? serialStretches(series.daily) : [];
  return series.daily.map((row, i) => {
    const before = series.daily[i - 1];
    const from = row.at - (options.days ?? 7) * dayMs;
    const known = stretches.filter((s) => s.to <= from);
    return {
      feedingDay: row.feedingDay,
      at: row.at,
      massG: row.massG,
      ageD: row.ageD,
      sinceLast: before ? gainBetween(before, row) : null,
      overWindow: gainOverWindow(series.daily, {
        ...options,
        errors,
        evidence: options.evidence ?? sumStretches(known),
        endAt: row.at,
      }),
    };
  });
}
