import type { LeftOut } from "../core/result.js";
import type { AnimalSeries, DailyMass, StudySettings } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { nearlyKnown } from "./bounds.js";
import { isAttributable } from "./cohort-conversion.js";
import { windowRows } from "./conversion-window.js";
import type { EnergyChoice } from "./energy-of.js";
import { feedConversion } from "./feed-conversion.js";
import { gainOverWindow } from "./gain-over-window.js";
import { phaseAt, phasesOf } from "./phases-of.js";
import { type SerialEvidence, serialEvidence } from "./serial-evidence.js";
import type { ErrorsBetweenDays } from "./serial-slope.js";

/** One stretch of one animal: energy eaten, size and gain with its error. */
export interface BalanceWindow {
  readonly animalId: string;
  readonly from: number;
  readonly to: number;
  readonly kcalPerD: number;
  /** Mean mass^0.75, kg^0.75. */
  readonly metabolicKg: number;
  readonly gainGPerD: number;
  readonly gainSe: number;
}

export interface BalanceOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  /** Length of a stretch, days; 7 or more. Default 7. */
  readonly days?: number;
  readonly energy?: EnergyChoice;
  /**
   * How errors of neighbouring weighings are taken for the error of a gain.
   * Default "independent". "serial" allows for gut fill that hangs together, but
   * a gain that truly wanders from day to day looks the same: on the invented
   * study, whose weighings err independently, it states errors 8 to 40 % too
   * large, and growth comes out too high.
   */
  readonly errors?: ErrorsBetweenDays;
  /** With "serial": what is known of it. Default: all of this animal's weighings. */
  readonly evidence?: SerialEvidence;
}

/**
 * The stretches of one animal for {@link energyBalance}: consecutive windows of
 * at least seven days between weighings, outside arrival and fast, with every
 * feed and its energy known to within 3 %.
 */
export function balanceWindows(
  series: AnimalSeries,
  options: BalanceOptions,
): { readonly windows: readonly BalanceWindow[]; readonly leftOut: readonly LeftOut[] } {
  const days = Math.max(7, options.days ?? 7);
  const { phases } = phasesOf(series, { settings: options.settings }).value;
  const errors = options.errors ?? "independent";
  const evidence = options.evidence ?? (errors === "serial" ? serialEvidence([series]) : undefined);
  const windows: BalanceWindow[] = [];
  let unknown = 0;
  let phase = 0;
  let long = 0;
  const rows = series.daily;
  let i = 0;
  for (;;) {
    const first = rows[i];
    const end = first && rows.findIndex((r) => r.at >= first.at + (days - 0.5) * dayMs);
    if (first === undefined || end === undefined || end === -1) break;
    i = end;
    const span = (rows[end]!.at - first.at) / dayMs;
    if (span > 2 * days) {
      long++;
      continue;
    }
    const c = feedConversion(series, {
      endAt: rows[end]!.at,
      days: span,
      minimumDays: days - 0.5,
      minimumWeighings: 4,
      errors,
      ...(evidence === undefined ? {} : { evidence }),
      ...(options.energy === undefined ? {} : { energy: options.energy }),
    }).value;
    const names = [phaseAt(phases, first.at)?.phase, phaseAt(phases, rows[end]!.at - 1)?.phase];
    const kcal = isAttributable(c) ? nearlyKnown(c.kcal, 3) : null;
    if (names.includes("arrival") || names.includes("post-weaning fast")) phase++;
    else if (kcal === null || c.from === null || c.to === null || c.days === null) unknown++;
    else {
      windows.push({
        animalId: c.animalId,
        from: c.from,
        to: c.to,
        kcalPerD: kcal / c.days,
        metabolicKg: metabolicSizeOver(windowRows(rows, rows[end]!.at, span)),
        gainGPerD: c.gain.value!,
        gainSe: c.gain.se!,
      });
    }
  }
  return {
    windows,
    leftOut: [
      { reason: "in arrival or fast", count: phase },
      { reason: "feed, its energy or the gain not known", count: unknown },
      { reason: "no weighing for too long", count: long },
    ].filter((l) => l.count > 0),
  };
}

/**
 * Mean of mass^0.75 (kg) over a window, along the line of its weighings: a day
 * without a weighing at one end would shift their plain mean.
 */
export function metabolicSizeOver(rows: readonly DailyMass[]): number {
  const { fittedStartG, fittedEndG } = gainOverWindow(rows, {
    days: Number.POSITIVE_INFINITY,
    minimumWeighings: 2,
    minimumSpan: 0,
  });
  const at = (share: number) =>
    Math.max(0, (fittedStartG! * (1 - share) + fittedEndG! * share) / 1000) ** 0.75;
  return (at(0) + 4 * at(0.5) + at(1)) / 6;
}
