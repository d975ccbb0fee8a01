import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import type { ErrorsInVariablesRegression } from "../stats/linear-mixed/errors-in-variables-regression.js";
import type { BalanceWindow } from "./balance-window.js";
import { fitBalance, withoutWildStretches } from "./fit-balance.js";
import { metabolicPower } from "./nutrition-formulas.js";
import { type PriceOfGain, priceOfGain } from "./price-of-gain.js";

/**
 * A price whose limits lie further apart than this factor, or of which more than this
 * share of the belief lies at the least or the largest price that can be, is no price:
 * there the possible prices and not the records would say it.
 */
const widestFactor = 8;
const mostAtEnds = 0.06;

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
  /** kcal of stated energy per g of gain. */
  readonly growth: Measured;
  /** Spread of maintenance between animals, and of a stretch about its expectation (kcal/d). */
  readonly animalSd: number;
  readonly residualSd: number;
  /** Share of the scatter of gain, beside size and within animals, that is real and not error of measurement, 0 to 1. */
  readonly reliability: number;
  /** Of maintenance, growth and, where there is one, the size effect. */
  readonly covariance: readonly (readonly number[])[];
  readonly animals: readonly AnimalBalance[];
}

/**
 * Energy balance of a cohort: kcal kept (eaten less what came up) = maintenance x W^0.75 + growth x gain,
 * maintenance varying between animals and from day to day. Gain is seen only through
 * weighings, whose errors may hang together from day to day (gut fill) and look like a
 * gain that wanders. Stretches from {@link balanceWindows} carry their weighings and
 * the energy kept between them: the price of a gram is then told from all days at once
 * (`fitPricedRate`), with how far gut fill lasts and how much gain wanders told from
 * the same records. Where the limits of the price lie more than a factor of eight
 * apart, or where only what a gram can cost at all bounds them, no price is given, and
 * the notice says why.
 *
 * Stretches made by hand, without weighings, state the error of their gain: its variance
 * is taken out of the equations (Fuller 1987, ch. 2 and 3), with standard errors of
 * the jackknife over animals, and from 24 stretches on maintenance may change with
 * ln(mass) where the data ask for it (|t| of 2 or more).
 *
 * Stretches whose gain is more than three times as uncertain as usual (a coat that was
 * wet, two animals exchanged) are left out and counted.
 *
 * Energy is what the records state, not what the body can use: where 95 % can be
 * used and a gram costs 2.2 kcal of that, growth is 2.2 / 0.95. What is kept is
 * taken to follow from upkeep and gain; where the usable part differs between
 * stretches (another formula, illness), the same food gives other gains, and growth
 * comes out too low. Take animals on one formula when the number itself matters.
 *
 * @example energyBalance(windows).value?.growth // { value: 3.9, unit: "kcal/g", se: 0.4, ... }
 */
export function energyBalance(
  windows: readonly BalanceWindow[],
  options: { readonly minimumWindows?: number; readonly minimumAnimals?: number } = {},
): Result<"energy-balance", EnergyBalance | null> {
  const needed = options.minimumWindows ?? 12;
  const neededAnimals = options.minimumAnimals ?? 4;
  const usable = withoutWildStretches(windows);
  const animals = [...new Set(usable.map((w) => w.animalId))];
  const notices: Notice[] = [];
  let value: EnergyBalance | null = null;
  let status: ErrorsInVariablesRegression["status"] | null = null;
  const few = usable.length < needed || animals.length < neededAnimals;
  const priced = few ? null : priceOfGain(usable);
  if (few) {
    notices.push(
      notice("balance-few-windows", "caution", {
        n: usable.length,
        needed,
        animals: animals.length,
        neededAnimals,
      }),
    );
  } else if (priced !== null) {
    status = "converged";
    const { lower, upper } = priced.fit;
    if (upper > widestFactor * lower || priced.fit.atEnds > mostAtEnds) {
      notices.push(notice("balance-growth-wide", "caution", { lower, upper, n: usable.length }));
    } else value = describePrice(priced);
  } else {
    const { fit, referenceKg } = fitBalance(usable);
    status = fit.status;
    const growth = fit.estimates[1];
    if (status === "too noisy" || (status === "converged" && fit.reliability < 0.2)) {
      notices.push(
        notice("balance-gain-too-noisy", "caution", {
          reliability: 100 * Math.max(0, fit.reliability),
        }),
      );
    } else if (status !== "converged" || growth === undefined) {
      notices.push(notice("balance-not-fitted", "problem", { status }));
    } else {
      if (growth <= 0) {
        notices.push(notice("balance-growth-not-positive", "caution", { growth }));
      }
      value = describe(fit, usable, animals, referenceKg);
    }
  }
  return {
    kind: "energy-balance",
    schema: 1,
    value,
    method: {
      name:
        priced !== null
          ? "Price of gain from weighings and energy kept day by day, errors that may hang together"
          : "Regression of energy kept on size and gain, corrected for the error of gain",
      options: { minimumWindows: needed, minimumAnimals: neededAnimals },
      citations:
        priced !== null
          ? [
              "Harvey 1989, Forecasting, Structural Time Series Models and the Kalman Filter",
              "Pawitan 2001, In All Likelihood",
            ]
          : [
              "Fuller 1987, Measurement Error Models",
              "Efron and Tibshirani 1993, An Introduction to the Bootstrap (jackknife)",
            ],
    },
    basis: {
      used: usable.length,
      leftOut:
        usable.length < windows.length
          ? [{ reason: "gain too uncertain", count: windows.length - usable.length }]
          : [],
      of: "stretches of an animal",
    },
    diagnostics: { status, lastingShare: priced?.fit.parameters.lastingShare ?? null },
    notices,
  };
}

/**
 * The gain to be expected of an animal for the energy it keeps: (kcal - maintenance
 * W^0.75) / growth, with the standard error of the coefficients (delta method).
 * Not defined where growth costs nothing.
 *
 * @example expectedGain({ animals: [], maintenance: { value: 200 }, sizeEffect: null, referenceKg: 4, growth: { value: 4 }, covariance: [] }, 1000, 5).value // 82.815
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
  const size = massKg ** metabolicPower;
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

/**
 * Maintenance, kcal per kg^0.75 a day, at a mass: of the cohort, or of one animal.
 *
 * @example maintenanceAt({ animals: [], maintenance: { value: 200 }, sizeEffect: null, referenceKg: 4 }, 5) // 200
 */
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

function describe(
  fit: ErrorsInVariablesRegression,
  windows: readonly BalanceWindow[],
  animals: readonly string[],
  referenceKg: number,
): EnergyBalance {
  const t = studentTQuantile(0.975, fit.df);
  const of = (k: number, unit: string) => {
    const estimate = fit.estimates[k]!;
    const se = Math.sqrt(fit.covariance[k]![k]!);
    const interval = { lower: estimate - t * se, upper: estimate + t * se, level: 0.95 };
    return measured(estimate, unit, { se, interval, n: windows.length });
  };
  const maintenance = of(0, "kcal/kg^0.75/d");
  return {
    maintenance,
    referenceKg,
    sizeEffect: fit.estimates.length === 3 ? of(2, "kcal/kg^0.75/d per ln(kg)") : null,
    growth: of(1, "kcal/g"),
    animalSd: fit.groupSd,
    residualSd: fit.residualSd,
    reliability: fit.reliability,
    covariance: fit.covariance,
    animals: animals.map((animalId) => ({
      animalId,
      windows: windows.filter((w) => w.animalId === animalId).length,
      maintenance: maintenance.value! + (fit.effects.get(animalId) ?? 0),
    })),
  };
}

function describePrice(priced: PriceOfGain): EnergyBalance {
  const { fit, animals } = priced;
  const n = animals.length;
  const mean = animals.reduce((s, a) => s + a.upkeep, 0) / n;
  const scatter = animals.reduce((s, a) => s + (a.upkeep - mean) ** 2, 0) / (n - 1);
  const known = animals.reduce((s, a) => s + a.variance, 0) / n;
  const between = Math.max(0, scatter - known);
  const windows = animals.reduce((s, a) => s + a.windows, 0);
  const priceVariance = (fit.price * fit.logSd) ** 2;
  const upkeepVariance = priced.perPrice ** 2 * priceVariance + scatter / n;
  const se = Math.sqrt(upkeepVariance);
  const half = studentTQuantile(0.975, n - 1) * se;
  return {
    maintenance: measured(mean, "kcal/kg^0.75/d", {
      se,
      interval: { lower: mean - half, upper: mean + half, level: 0.95 },
      n: windows,
    }),
    referenceKg: priced.referenceKg,
    sizeEffect: null,
    growth: measured(fit.price, "kcal/g", {
      se: Math.sqrt(priceVariance),
      interval: { lower: fit.lower, upper: fit.upper, level: 0.95 },
      n: windows,
    }),
    animalSd: Math.sqrt(between),
    residualSd: fit.parameters.moodSd * priced.referenceKg ** metabolicPower,
    reliability: priced.reliability,
    covariance: [
      [upkeepVariance, priced.perPrice * priceVariance],
      [priced.perPrice * priceVariance, priceVariance],
    ],
    animals: animals.map((a) => ({
      animalId: a.animalId,
      windows: a.windows,
      maintenance: mean + ((a.upkeep - mean) * between) / (between + a.variance),
    })),
  };
}
