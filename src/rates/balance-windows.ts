import type { LeftOut } from "../core/result.js";
import type { AnimalSeries, DailyMass, StudySettings } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { balanceCourseReader } from "./balance-course.js";
import type { BalanceWindow } from "./balance-window.js";
import { nearlyKnown } from "./bounds.js";
import { isAttributable } from "./cohort-conversion.js";
import { windowRows } from "./conversion-window.js";
import type { EnergyChoice } from "./energy-of.js";
import { feedConversion } from "./feed-conversion.js";
import { gainOverWindow } from "./gain-over-window.js";
import { metabolicPower } from "./nutrition-formulas.js";
import { phaseAt, phasesOf } from "./phases-of.js";
import { type SerialEvidence, serialEvidence } from "./serial-evidence.js";
import type { ErrorsBetweenDays } from "./serial-slope.js";

export interface BalanceOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  /** Length of a stretch, days; 7 or more. Default 7. */
  readonly days?: number;
  readonly energy?: EnergyChoice;
  /**
   * How errors of neighbouring weighings are taken for the stated error of a gain.
   * Default "serial": gut fill that hangs together is allowed for where it is found.
   * The balance itself tells gut fill from a gain that wanders by what was eaten.
   */
  readonly errors?: ErrorsBetweenDays;
  /** With "serial": what is known of it. Default: all of this animal's weighings. */
  readonly evidence?: SerialEvidence;
}

/**
 * The stretches of one animal for {@link energyBalance}: consecutive windows of
 * at least seven days between weighings, from the end of arrival on and outside the fast,
 * with every feed and the energy kept (eaten less what came up) known to within 3 %; the
 * last one runs to the end of the record.
 *
 * @example balanceWindows(otter, { settings }).windows.length // 13
 */
export function balanceWindows(
  series: AnimalSeries,
  options: BalanceOptions,
): { readonly windows: readonly BalanceWindow[]; readonly leftOut: readonly LeftOut[] } {
  const days = Math.max(7, options.days ?? 7);
  const { phases } = phasesOf(series, { settings: options.settings }).value;
  const errors = options.errors ?? "serial";
  const evidence = options.evidence ?? (errors === "serial" ? serialEvidence([series]) : undefined);
  const courseOf = balanceCourseReader(series, options.energy);
  const rows = series.daily;
  const windows: BalanceWindow[] = [];
  const counts = { phase: 0, unknown: 0, long: 0 };
  const grown = rows.findIndex((r) => phaseAt(phases, r.at)?.phase !== "arrival");
  let i = grown < 0 ? rows.length : grown;
  for (;;) {
    const first = rows[i];
    if (first === undefined) break;
    const end = endOf(i);
    if (end === -1) break;
    // What is left at the end is too short for a stretch of its own: the last one takes it in.
    const whole = endOf(end) === -1 ? stretch(first, rows.at(-1)!) : "phase";
    const found = typeof whole === "string" ? stretch(first, rows[end]!) : whole;
    if (typeof found === "string") counts[found]++;
    else windows.push(found);
    i = end;
  }
  return {
    windows,
    leftOut: [
      { reason: "in arrival or fast", count: counts.phase },
      { reason: "feed, the energy kept or the gain not known", count: counts.unknown },
      { reason: "no weighing for too long", count: counts.long },
    ].filter((l) => l.count > 0),
  };

  /** Index of the first weighing a stretch after one; -1 where there is none. */
  function endOf(from: number): number {
    const earliest = rows[from]!.at + (days - 0.5) * dayMs;
    return rows.findIndex((r) => r.at >= earliest);
  }

  /** The stretch between two weighings, or why there is none. */
  function stretch(first: DailyMass, last: DailyMass): BalanceWindow | keyof typeof counts {
    const span = (last.at - first.at) / dayMs;
    if (span > 2 * days) return "long";
    const c = feedConversion(series, {
      endAt: last.at,
      days: span,
      minimumDays: days - 0.5,
      minimumWeighings: 4,
      errors,
      ...(evidence === undefined ? {} : { evidence }),
      ...(options.energy === undefined ? {} : { energy: options.energy }),
    }).value;
    const names = [phaseAt(phases, first.at)?.phase, phaseAt(phases, last.at - 1)?.phase];
    if (names.includes("arrival") || names.includes("post-weaning fast")) return "phase";
    const kcal = isAttributable(c) ? nearlyKnown(c.kept.kcal, 3) : null;
    if (kcal === null || c.from === null || c.to === null || c.days === null) return "unknown";
    const inside = windowRows(rows, last.at, span);
    return {
      animalId: c.animalId,
      from: c.from,
      to: c.to,
      kcalPerD: kcal / c.days,
      metabolicKg: metabolicSizeOver(inside),
      gainGPerD: c.gain.value!,
      gainSe: c.gain.se!,
      course: courseOf(inside),
    };
  }
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
    Math.max(0, (fittedStartG! * (1 - share) + fittedEndG! * share) / 1000) ** metabolicPower;
  return (at(0) + 4 * at(0.5) + at(1)) / 6;
}
