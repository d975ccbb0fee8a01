import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { CivilDate } from "../series/animal-series.js";
import type { Bounds } from "./bounds.js";
import type { IntakeDay } from "./intake-by-day.js";

/** Mean intake over complete feeding days; a range where a refusal is unknown. */
export interface MeanIntake {
  readonly from: CivilDate | null;
  readonly to: CivilDate | null;
  readonly days: number;
  readonly eatenG: Measured;
  /** Energy of what was eaten, and of what was kept. */
  readonly kcal: Measured;
  readonly keptKcal: Measured;
  readonly shareOfMassPct: Measured;
  /** Days in the window with at least one feed whose amount eaten is not known. */
  readonly daysUncertain: number;
}

/**
 * Mean daily intake over the last `days` complete feeding days (default 7), or
 * those up to `to`. Where an amount is known only within bounds the mean has no
 * value but an interval of level 1: it lies between the two for certain.
 *
 * @example meanIntake(intakeByDay(otter, { settings }).value).eatenG.value // 1555
 */
export function meanIntake(
  intake: readonly IntakeDay[],
  options: { readonly days?: number; readonly to?: CivilDate } = {},
): MeanIntake {
  const { to } = options;
  const complete = intake.filter(
    (d) => d.complete && d.feeds > 0 && (to === undefined || d.feedingDay <= to),
  );
  const window = complete.slice(-(options.days ?? 7));
  return {
    from: window[0]?.feedingDay ?? null,
    to: window.at(-1)?.feedingDay ?? null,
    days: window.length,
    eatenG: meanOf(window, "g/d", (d) => d.eatenG),
    kcal: meanOf(window, "kcal/d", (d) => d.kcal),
    keptKcal: meanOf(window, "kcal/d", (d) => d.keptKcal),
    shareOfMassPct: meanOf(window, "% of body mass/d", (d) => d.shareOfMassPct),
    daysUncertain: window.filter((d) => d.eatenG.value === null).length,
  };
}

function meanOf(
  days: readonly IntakeDay[],
  unit: string,
  read: (day: IntakeDay) => Bounds | null,
): Measured {
  const bounds = days.flatMap((day) => {
    const each = read(day);
    return each === null ? [] : [each];
  });
  const n = bounds.length;
  if (n === 0) return notDefined(unit, notice("intake-no-complete-day", "caution"));
  const low = bounds.reduce((sum, b) => sum + b.low, 0) / n;
  if (bounds.every((b) => b.value !== null)) return measured(low, unit, { n });
  const high = bounds.some((b) => b.high === null)
    ? null
    : bounds.reduce((sum, b) => sum + (b.high ?? 0), 0) / n;
  return {
    value: null,
    unit,
    n,
    interval: { lower: low, upper: high, level: 1 },
    why: notice("intake-mean-is-a-range", "caution", {
      days: bounds.filter((b) => b.value === null).length,
      of: n,
    }),
  };
}
