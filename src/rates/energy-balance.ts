import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { fitLinearMixed, type LinearMixedFit } from "../stats/linear-mixed.js";
import { estimateContrast, prepareInference } from "../stats/linear-mixed-contrasts.js";
import type { BalanceWindow } from "./balance-windows.js";
import { calibrateGain } from "./calibrate-gain.js";

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
    const { calibrated, reliability } = calibrateGain(windows);
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
