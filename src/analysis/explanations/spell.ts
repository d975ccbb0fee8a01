import { energyOf } from "../../rates/energy-of.js";
import { gainOverWindow } from "../../rates/gain-over-window.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import { metabolicPower } from "../../rates/nutrition-formulas.js";
import { plannedAndEaten } from "../../rates/planned-and-eaten.js";
import type { AnimalSeries, CivilDate } from "../../series/animal-series.js";
import type { KitchenBatch } from "../../series/kitchen-batches.js";
import { daysBetween } from "../../units/calendar.js";

/** An amount between two limits; equal where it is known. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** One animal over a run of days: what it gained, what was ordered for it, what it ate, and what it kept. */
export interface Spell {
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  /** Mean of the daily masses, g. */
  readonly massG: number | null;
  readonly gainGPerD: number | null;
  readonly gainSeGPerD: number | null;
  /** Relative gain, %/d, and its standard error. */
  readonly gainPct: number | null;
  readonly gainSePct: number | null;
  /** Energy kept (eaten less what came up), kcal/d. */
  readonly keptKcal: Range | null;
  /** The same per kg^0.75. */
  readonly keptPerSize: Range | null;
  /** Energy ordered per kg^0.75 and day; null without an order that can be added up. */
  readonly orderedPerSize: number | null;
  /** Eaten over ordered, 1 where all of it was eaten. */
  readonly eatenOfOrdered: Range | null;
  readonly daysWithOrder: number;
}

/** Share of the days that must have feeds, or an order, for the mean to speak for the spell. */
const enoughDays = 0.6;

/**
 * Sums one animal's days: weighings of [from, to], feeds of the complete feeding
 * days of [from, to). Each mean is null where too few days have what it needs.
 *
 * @param batches every batch, for what an order meant: the diet, however it was mixed
 * @param intake the animal's intake by day
 * @example spellOf(series, batches, intake, "2031-05-01", "2031-05-14").gainPct // 1.8
 */
export function spellOf(
  series: AnimalSeries,
  batches: ReadonlyMap<string, KitchenBatch>,
  intake: readonly IntakeDay[],
  from: CivilDate,
  to: CivilDate,
): Spell {
  const days = daysBetween(from, to);
  const rows = series.daily.filter((d) => d.feedingDay >= from && d.feedingDay <= to);
  const gain = gainOverWindow(rows, { days: days + 1, minimumWeighings: 4 });
  const massG = rows.length === 0 ? null : rows.reduce((s, r) => s + r.massG, 0) / rows.length;
  const size = massG === null ? null : (massG / 1000) ** metabolicPower;
  const fed = intake.filter(
    (d) => d.complete && d.feeds > 0 && d.feedingDay >= from && d.feedingDay < to,
  );
  const energy = fed.filter((d) => d.keptKcal.high !== null);
  const keptKcal =
    energy.length < enoughDays * days || energy.length === 0
      ? null
      : {
          low: mean(energy.map((d) => d.keptKcal.low)),
          high: mean(energy.map((d) => d.keptKcal.high!)),
        };
  const planned = fed.flatMap((d) => {
    const both = plannedAndEaten(series, d.from, d.to);
    if (typeof both === "string") return [];
    const kcalPerUnit = both.unit === "kcal" ? 1 : meantKcalPerG(series, batches, d);
    return [{ ...both, plannedKcal: both.planned * kcalPerUnit }];
  });
  const ordered = planned.length >= enoughDays * days && planned.length > 0;
  const total = (read: (p: (typeof planned)[number]) => number) =>
    planned.reduce((s, p) => s + read(p), 0);
  // Days are weighed by what was ordered, grams and energy apart: a mean of shares.
  const share = (read: (p: (typeof planned)[number]) => number) =>
    mean(planned.map((p) => read(p) / p.planned));
  const orderedKcal = total((p) => p.plannedKcal) / planned.length;
  return {
    from,
    to,
    days,
    massG,
    gainGPerD: gain.gain.value,
    gainSeGPerD: gain.gain.se ?? null,
    gainPct: gain.relative.value,
    gainSePct: gain.relative.se ?? null,
    keptKcal,
    keptPerSize:
      keptKcal === null || size === null
        ? null
        : { low: keptKcal.low / size, high: keptKcal.high / size },
    orderedPerSize:
      ordered && size !== null && Number.isFinite(orderedKcal) ? orderedKcal / size : null,
    eatenOfOrdered: ordered ? { low: share((p) => p.least), high: share((p) => p.most) } : null,
    daysWithOrder: planned.length,
  };
}

/** Energy that a gram of this day's feeds was meant to hold: by diet, not by batch. */
function meantKcalPerG(
  series: AnimalSeries,
  batches: ReadonlyMap<string, KitchenBatch>,
  day: IntakeDay,
): number {
  let grams = 0;
  let kcal = 0;
  for (const f of series.feeds) {
    if (f.at < day.from || f.at >= day.to) continue;
    const batch = f.row.batchId === null ? undefined : batches.get(f.row.batchId);
    const meant = batch?.dietComposition ?? f.composition;
    const perG = meant === null ? null : energyOf(meant).kcalPerG.value;
    if (perG === null) return Number.NaN;
    grams += f.offeredG;
    kcal += f.offeredG * perG;
  }
  return grams > 0 ? kcal / grams : Number.NaN;
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
