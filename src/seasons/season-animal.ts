import { gainOverWindow } from "../rates/gain-over-window.js";
import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import { type Phase, type PhaseName, phasesOf } from "../rates/phases-of.js";
import type { AnimalRow, AnimalSeries, StudySettings } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { conversionWindows } from "./conversion-windows.js";
import { mainFormula } from "./main-formula.js";

/** One animal's time in care in a few numbers; null where it cannot be had. */
export interface SeasonAnimal {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly sex: AnimalRow["sex"];
  readonly season: string | null;
  /** The formula it ate most of, by weight. */
  readonly mainFormula: string | null;
  readonly outcome: AnimalRow["outcome"];
  readonly daysInCare: number | null;
  readonly arrivalMassG: number | null;
  readonly arrivalAgeD: number | null;
  /** Deepest loss in the first 10 days, % of the arrival mass (0 if none). */
  readonly dipPct: number | null;
  /** Days from the first weighing to the end of the arrival phase. */
  readonly arrivalDays: number | null;
  readonly phases: readonly SeasonPhase[];
  /** Feeding days in care on which it was not weighed, and those without a recorded feed. */
  readonly daysNotWeighed: number;
  readonly daysNotFed: number;
  readonly feeds: number;
  /** Feeds of which it is not known how much was eaten. */
  readonly feedsUnknown: number;
  readonly suspectedSlips: number;
}

export interface SeasonPhase {
  readonly phase: PhaseName;
  readonly days: number;
  /** Regression gain, g/d and %/d. */
  readonly gain: number | null;
  readonly relativeGain: number | null;
  /** Eaten: means over complete days on which all amounts are known. */
  readonly eatenG: number | null;
  readonly kcal: number | null;
  readonly shareOfMassPct: number | null;
  readonly knownDays: number;
  readonly unknownDays: number;
  /** Energy kept and gain, sums over the 14-day windows in which both are known: for a ratio of sums. */
  readonly convertedKcal: number;
  readonly convertedGainG: number;
  readonly windows: number;
}

/** Sums up one animal. @example seasonAnimal(series, settings).phases[1]?.gain // 27.4 */
export function seasonAnimal(series: AnimalSeries, settings: StudySettings): SeasonAnimal {
  const { animal, daily } = series;
  const intake = intakeByDay(series, { settings }).value;
  const { phases } = phasesOf(series, { settings, intake }).value;
  const first = daily[0];
  const end = series.span?.to ?? null;
  const start = animal.admittedAt ?? series.span?.from ?? null;
  const early = first === undefined ? [] : daily.filter((d) => d.at <= first.at + 10 * dayMs);
  const lowest = Math.min(...early.map((d) => d.massG));
  const arrival = phases.find((p) => p.phase === "arrival");
  const days = start === null || end === null ? null : (end - start) / dayMs;
  const unknown = series.feeds.filter((f) => f.eatenG === null).length;
  return {
    animalId: animal.animalId,
    name: animal.name,
    species: animal.species,
    sex: animal.sex,
    season: animal.season,
    mainFormula: mainFormula(series),
    outcome: animal.outcome,
    daysInCare: days,
    arrivalMassG: first?.massG ?? null,
    arrivalAgeD:
      start !== null && series.age.birth !== null && series.age.usableForWeightForAge
        ? (start - series.age.birth) / dayMs
        : null,
    dipPct: first === undefined ? null : Math.max(0, 100 * (1 - lowest / first.massG)),
    arrivalDays:
      arrival === undefined || arrival.to === null ? null : (arrival.to - arrival.from) / dayMs,
    phases: phases.map((p) => phaseOf(series, intake, p, end ?? p.from)),
    daysNotWeighed: Math.max(0, Math.round(days ?? 0) + 1 - daily.length),
    daysNotFed: intake.filter((d) => d.feeds === 0).length,
    feeds: series.feeds.length,
    feedsUnknown: unknown,
    suspectedSlips: series.weighings.filter((w) => w.slip !== null).length,
  };
}

function phaseOf(
  series: AnimalSeries,
  intake: readonly IntakeDay[],
  phase: Phase,
  end: number,
): SeasonPhase {
  const to = phase.to ?? end;
  const length = (to - phase.from) / dayMs;
  const gain = gainOverWindow(
    series.daily.filter((d) => d.at >= phase.from),
    { endAt: to, days: length + 0.001, minimumWeighings: 4, minimumSpan: 0.5 },
  );
  const inside = intake.filter((d) => d.complete && d.from >= phase.from && d.to <= to);
  const known = inside.filter((d) => d.feeds > 0 && d.eatenG.value !== null);
  const mean = (read: (d: IntakeDay) => number | null | undefined) => {
    const xs = known.map(read).filter((x): x is number => x !== null && x !== undefined);
    return xs.length === 0 ? null : xs.reduce((a, b) => a + b, 0) / xs.length;
  };
  const converted = conversionWindows(series, phase.from, to);
  return {
    phase: phase.phase,
    days: length,
    gain: gain.gain.value,
    relativeGain: gain.relative.value,
    eatenG: mean((d) => d.eatenG.value),
    kcal: mean((d) => d.kcal.value),
    shareOfMassPct: mean((d) => d.shareOfMassPct?.value),
    knownDays: known.length,
    unknownDays: inside.length - known.length,
    convertedKcal: converted.reduce((sum, w) => sum + w.kcal, 0),
    convertedGainG: converted.reduce((sum, w) => sum + w.gainedG, 0),
    windows: converted.length,
  };
}
