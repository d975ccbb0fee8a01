import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { LeftOut, Result } from "../core/result.js";
import type { AnimalSeries, StudySettings } from "../series/animal-series.js";
import { fitLinearMixed, type LinearMixedFit } from "../stats/linear-mixed.js";
import { estimateContrast, prepareInference } from "../stats/linear-mixed-contrasts.js";
import { nearlyKnown } from "./bounds.js";
import { isAttributable } from "./cohort-conversion.js";
import type { EnergyChoice } from "./energy-of.js";
import { feedConversion } from "./feed-conversion.js";
import { phaseAt, phasesOf } from "./phases-of.js";

const dayMs = 86_400_000;

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
}

export interface AnimalBalance {
  readonly animalId: string;
  readonly windows: number;
  /** This animal's maintenance, kcal per kg^0.75 a day, shrunk towards the others'. */
  readonly maintenance: number;
}

export interface EnergyBalance {
  /** kcal per kg^0.75 a day to live, at the reference mass. */
  readonly maintenance: Measured;
  /** The geometric mean mass of the stretches, kg. */
  readonly referenceKg: number;
  /**
   * How maintenance per kg^0.75 changes per unit of ln(mass): where it is not
   * zero, upkeep grows with another power than 0.75. Null where it was not
   * needed or cannot be told.
   */
  readonly sizeEffect: Measured | null;
  /** kcal per g of gain. */
  readonly growth: Measured;
  /** Spread of maintenance between animals, and of a stretch about its expectation (kcal/d). */
  readonly animalSd: number;
  readonly residualSd: number;
  /** Share of the scatter of gain within animals that is real and not error of measurement, 0 to 1. */
  readonly reliability: number;
  /** Of maintenance, growth and, where there is one, the size effect. */
  readonly covariance: readonly (readonly number[])[];
  readonly animals: readonly AnimalBalance[];
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
        metabolicKg: (c.meanMassG! / 1000) ** 0.75,
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
 * Energy balance of a cohort: kcal eaten = maintenance x W^0.75 + growth x gain,
 * maintenance varying between animals (linear mixed model, REML) and, from 24
 * stretches on and where the data ask for it (|t| of 2 or more), with ln(mass).
 * Gain is
 * measured with error, which would pull its coefficient towards zero; each gain
 * is therefore replaced by its expectation given what was measured (regression
 * calibration). Standard errors do not include the uncertainty of that step.
 *
 * Source: Carroll et al., Measurement Error in Nonlinear Models (2006), ch. 4.
 *
 * @example energyBalance(windows).value?.growth // { value: 3.9, unit: "kcal/g", se: 0.4, ... }
 */
export function energyBalance(
  windows: readonly BalanceWindow[],
  options: { readonly minimumWindows?: number; readonly minimumAnimals?: number } = {},
): Result<"energy-balance", EnergyBalance | null> {
  const needed = options.minimumWindows ?? 12;
  const neededAnimals = options.minimumAnimals ?? 4;
  const animals = [...new Set(windows.map((w) => w.animalId))];
  const notices: Notice[] = [];
  let value: EnergyBalance | null = null;
  let fit: LinearMixedFit | null = null;
  if (windows.length < needed || animals.length < neededAnimals) {
    notices.push(
      notice("balance-few-windows", "caution", {
        n: windows.length,
        needed,
        animals: animals.length,
        neededAnimals,
      }),
    );
  } else {
    const size = windows.map((w) => w.metabolicKg);
    const { calibrated, reliability } = calibrate(windows);
    if (reliability < 0.2) {
      notices.push(notice("balance-gain-too-noisy", "caution", { reliability: 100 * reliability }));
    } else {
      const log = windows.map((w) => Math.log(massOf(w)));
      const middle = log.reduce((sum, l) => sum + l, 0) / log.length;
      const bySize = size.map((m, i) => m * (log[i]! - middle));
      const groups = windows.map((w) => w.animalId);
      const fitWith = (names: readonly string[], columns: readonly (readonly number[])[]) =>
        fitLinearMixed({
          response: windows.map((w) => w.kcalPerD),
          fixed: { names, columns },
          levels: [{ name: "animal", group: groups, names: ["maintenance"], columns: [size] }],
        });
      const names = ["maintenance", "growth"];
      if (windows.length >= 24) {
        fit = fitWith([...names, "size"], [size, calibrated, bySize]);
        const [effect, se] = [fit.fixed.estimates[2], fit.fixed.se[2]];
        const needed = effect != null && se != null && Math.abs(effect) >= 2 * se;
        if (fit.status !== "converged" || !needed) fit = null;
      }
      fit ??= fitWith(names, [size, calibrated]);
      const [a, b] = fit.fixed.estimates;
      if (fit.status !== "converged" || a == null || b == null) {
        notices.push(notice("balance-not-fitted", "problem", { status: fit.status }));
      } else {
        if (b <= 0) notices.push(notice("balance-growth-not-positive", "caution", { growth: b }));
        value = describe(fit, windows, animals, reliability, Math.exp(middle));
      }
    }
  }
  return {
    kind: "energy-balance",
    schema: 1,
    value,
    method: {
      name: "Linear mixed model of energy eaten, gain calibrated for its error",
      options: { minimumWindows: needed, minimumAnimals: neededAnimals },
      citations: [
        "Carroll et al. 2006, Measurement Error in Nonlinear Models",
        "Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS",
      ],
    },
    basis: { used: windows.length, leftOut: [], of: "stretches of an animal" },
    diagnostics: { status: fit?.status ?? null, singular: fit?.singular ?? null },
    notices,
  };
}

/**
 * The gain to be expected of an animal for what it eats: (kcal - maintenance
 * W^0.75) / growth, with the standard error of the coefficients (delta method).
 * Not defined where growth costs nothing.
 */
export function expectedGain(
  balance: EnergyBalance,
  kcalPerD: number,
  massKg: number,
  animalId?: string,
): Measured {
  const b = balance.growth.value;
  const upkeep = maintenanceAt(balance, massKg, animalId);
  if (b === null || upkeep === null || !(b > 0)) {
    return notDefined("g/d", notice("balance-growth-not-positive", "caution", { growth: b }));
  }
  const size = massKg ** 0.75;
  const gain = (kcalPerD - upkeep * size) / b;
  const gradient = [size, gain, size * Math.log(massKg / balance.referenceKg)];
  let variance = 0;
  balance.covariance.forEach((row, j) => {
    row.forEach((v, k) => {
      variance += gradient[j]! * v * gradient[k]!;
    });
  });
  return measured(gain, "g/d", { se: Math.sqrt(Math.max(0, variance)) / b });
}

/** Maintenance, kcal per kg^0.75 a day, at a mass: of the cohort, or of one animal. */
export function maintenanceAt(
  balance: EnergyBalance,
  massKg: number,
  animalId?: string,
): number | null {
  const own = balance.animals.find((x) => x.animalId === animalId)?.maintenance;
  const base = own ?? balance.maintenance.value;
  if (base === null || !(massKg > 0)) return null;
  return base + (balance.sizeEffect?.value ?? 0) * Math.log(massKg / balance.referenceKg);
}

/** Mean mass of a stretch, kg. */
function massOf(w: BalanceWindow): number {
  return w.metabolicKg ** (4 / 3);
}

/**
 * Each gain drawn towards what its animal and size predict, by how little of the
 * rest is real. The animal's own mean comes first: differences between animals
 * are known well from their many stretches, and the model sets them apart.
 */
function calibrate(windows: readonly BalanceWindow[]) {
  const n = windows.length;
  const mx = windows.reduce((s, w) => s + w.metabolicKg, 0) / n;
  const my = windows.reduce((s, w) => s + w.gainGPerD, 0) / n;
  const sxx = windows.reduce((s, w) => s + (w.metabolicKg - mx) ** 2, 0);
  const sxy = windows.reduce((s, w) => s + (w.metabolicKg - mx) * (w.gainGPerD - my), 0);
  const slope = sxx > 0 ? sxy / sxx : 0;
  const line = windows.map((w) => my + slope * (w.metabolicKg - mx));
  const own = new Map<string, { sum: number; count: number }>();
  windows.forEach((w, i) => {
    const o = own.get(w.animalId) ?? { sum: 0, count: 0 };
    own.set(w.animalId, { sum: o.sum + w.gainGPerD - line[i]!, count: o.count + 1 });
  });
  const expected = windows.map((w, i) => {
    const o = own.get(w.animalId)!;
    return line[i]! + o.sum / o.count;
  });
  const df = Math.max(1, n - own.size - 1);
  const scatter = windows.reduce((s, w, i) => s + (w.gainGPerD - expected[i]!) ** 2, 0) / df;
  const error = windows.reduce((s, w) => s + w.gainSe ** 2, 0) / n;
  const real = Math.max(0, scatter - error);
  const calibrated = windows.map((w, i) => {
    const share = real / (real + w.gainSe ** 2 || 1);
    return expected[i]! + share * (w.gainGPerD - expected[i]!);
  });
  return { calibrated, reliability: scatter > 0 ? real / scatter : 0 };
}

function describe(
  fit: LinearMixedFit,
  windows: readonly BalanceWindow[],
  animals: readonly string[],
  reliability: number,
  referenceKg: number,
): EnergyBalance {
  const inference = prepareInference(fit);
  const of = (row: readonly number[], unit: string) => {
    const c = estimateContrast(inference, row);
    return measured(c.estimate, unit, {
      se: c.se,
      interval: { lower: c.lower, upper: c.upper, level: 0.95 },
      n: windows.length,
    });
  };
  const withSize = fit.fixed.names.length === 3;
  const row = (k: number) => fit.fixed.names.map((_, i) => (i === k ? 1 : 0));
  const maintenance = of(row(0), "kcal/kg^0.75/d");
  const growth = of(row(1), "kcal/g");
  const random = fit.random[0];
  return {
    maintenance,
    referenceKg,
    sizeEffect: withSize ? of(row(2), "kcal/kg^0.75/d per ln(kg)") : null,
    growth,
    animalSd: random?.sd[0] ?? 0,
    residualSd: fit.sigma,
    reliability,
    covariance: fit.fixed.covariance,
    animals: animals.map((animalId) => ({
      animalId,
      windows: windows.filter((w) => w.animalId === animalId).length,
      maintenance:
        maintenance.value! + (random?.effects[random.groups.indexOf(animalId)]?.[0] ?? 0),
    })),
  };
}
