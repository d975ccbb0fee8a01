import { type Random, seededRandom } from "../../src/core/random.js";
import { rehydrationVariance } from "../../src/flags/watch/rehydration.js";
import type { WatchedAnimal } from "../../src/flags/watch/watch-group.js";

/**
 * Invented cohorts for the flag benches. The truth is NOT the model that the
 * flags fit: each animal follows a decelerating curve of its own,
 * ln m(t) = ln m0 + g0 / k (1 - exp(-k t)), all four numbers drawn.
 */
export interface CohortDesign {
  readonly animals: number;
  readonly days: number;
  /** Relative sd of an independent weighing error. */
  readonly noise: number;
  /** Sd and daily correlation of gut fill (added to the noise). */
  readonly gutFill?: { readonly sd: number; readonly rho: number };
  /** Sd of the daily random step of ln mass: true day-to-day variation of gain. */
  readonly dayToDay?: number;
  /** Share of days weighed after a meal; raises mass by 3 %, known to have an error of 3 %. */
  readonly afterMeal?: number;
  /** Share of days weighed wet: raises mass by 4 % on average, stated error 4 %. */
  readonly wet?: number;
  readonly missed?: number;
  /** Share of days weighed carried, with a keeper's tare error of 60 g, stated. */
  readonly carried?: number;
  readonly arrivalDip?: boolean;
  /** Index of the animal whose gain is halved, from this day after its arrival on. */
  readonly affected?: { readonly animal: number; readonly fromDay: number };
}

export interface SimulatedCohort {
  readonly animals: readonly WatchedAnimal[];
  /** Day number on which each animal arrived. */
  readonly arrival: readonly number[];
  /** True healthy ln mass (before noise) of each animal at its values, for the oracle. */
  readonly truth: readonly Float64Array[];
  /** True healthy relative gain of the day before each value. */
  readonly trueGain: readonly Float64Array[];
  readonly changeDay: number | null;
}

export function simulateCohort(design: CohortDesign, random: Random): SimulatedCohort {
  const g0 = 0.0115 * Math.exp(0.1 * random.normal());
  const k = 0.011 * Math.exp(0.2 * random.normal());
  const animals: WatchedAnimal[] = [];
  const truth: Float64Array[] = [];
  const trueGain: Float64Array[] = [];
  const arrivals: number[] = [];
  let changeDay: number | null = null;
  for (let i = 0; i < design.animals; i++) {
    const arrival = random.below(8);
    const age = 3 + 9 * random.uniform();
    arrivals.push(arrival);
    const g = g0 * Math.exp(0.1 * random.normal());
    const kk = k * Math.exp(0.1 * random.normal());
    const m0 = Math.log(1900) + 0.1 * random.normal();
    const at = (t: number) => m0 + (g / kk) * (1 - Math.exp(-kk * t));
    const rate = (t: number) => g * Math.exp(-kk * t);
    const from =
      design.affected !== undefined && design.affected.animal === i
        ? design.affected.fromDay
        : Number.POSITIVE_INFINITY;
    if (Number.isFinite(from)) changeDay = arrival + from;
    const time: number[] = [];
    const day: number[] = [];
    const y: number[] = [];
    const v: number[] = [];
    const tr: number[] = [];
    const tg: number[] = [];
    let gut = (design.gutFill?.sd ?? 0) * random.normal();
    let walk = 0;
    const dip = design.arrivalDip === true ? 0.05 + 0.03 * random.uniform() : 0;
    const length = Math.min(design.days, design.days);
    for (let d = 0; d < length; d++) {
      const t = age + d;
      if (d > 0) {
        if (design.gutFill) {
          const { sd, rho } = design.gutFill;
          gut = rho * gut + sd * Math.sqrt(1 - rho * rho) * random.normal();
        }
        if (design.dayToDay) walk += design.dayToDay * random.normal();
      }
      const lost = Number.isFinite(from) && d > from ? 0.5 * (at(t) - at(age + from)) : 0;
      const arrivalLoss = dip * (d <= 2 ? d / 2 : Math.max(0, 1 - (d - 2) / 4));
      const isMissed = random.uniform() < (design.missed ?? 0);
      let e = design.noise * random.normal();
      let known = 0;
      if (random.uniform() < (design.afterMeal ?? 0)) {
        e += 0.03 + 0.01 * random.normal();
        known += 0.03 ** 2;
      }
      if (random.uniform() < (design.wet ?? 0)) {
        e += 0.04 + 0.015 * random.normal();
        known += 0.04 ** 2;
      }
      const mass = Math.exp(at(t));
      if (random.uniform() < (design.carried ?? 0)) {
        e += (60 / mass) * random.normal();
        known += (60 / mass) ** 2;
      }
      if (isMissed) continue;
      time.push(t);
      day.push(arrival + d);
      y.push(at(t) - lost - arrivalLoss + walk + gut + e);
      v.push(known);
      tr.push(at(t));
      tg.push(rate(t));
    }
    // The arrival phase ends when smoothed mass regains admission mass, at most day 7.
    let first = 0;
    if (design.arrivalDip === true) {
      first = day.findIndex((dd) => dd - arrival >= 7);
      for (let j = 2; j < day.length && day[j]! - arrival < 7; j++) {
        const middle = [y[j]!, y[j - 1]!, y[j - 2]!].sort((a, b) => a - b)[1]!;
        if (middle >= y[0]!) {
          first = j;
          break;
        }
      }
    }
    animals.push({
      id: `S${i}`,
      time: Float64Array.from(time.slice(first)),
      day: Int32Array.from(day.slice(first)),
      logMass: Float64Array.from(y.slice(first)),
      knownVariance: Float64Array.from(v.slice(first), (x, j) =>
        design.arrivalDip === true ? x + rehydrationVariance(j) : x,
      ),
      serves: new Uint8Array(time.length - first).fill(1),
    });
    truth.push(Float64Array.from(tr.slice(first)));
    trueGain.push(Float64Array.from(tg.slice(first)));
  }
  return { animals, arrival: arrivals, truth, trueGain, changeDay };
}

export const designs: Readonly<Record<string, Omit<CohortDesign, "animals" | "days">>> = {
  plain: { noise: 0.015 },
  "gut fill": { noise: 0.008, gutFill: { sd: 0.0127, rho: 0.5 } },
  "day-to-day": { noise: 0.015, dayToDay: 0.003 },
  meals: { noise: 0.015, afterMeal: 0.3 },
  wet: { noise: 0.015, wet: 0.15 },
  missed: { noise: 0.015, missed: 0.3 },
  carried: { noise: 0.015, carried: 0.3 },
  "arrival dip": { noise: 0.015, arrivalDip: true },
  everything: {
    noise: 0.01,
    gutFill: { sd: 0.011, rho: 0.5 },
    dayToDay: 0.0025,
    afterMeal: 0.2,
    wet: 0.1,
    missed: 0.15,
    carried: 0.15,
    arrivalDip: true,
  },
};

/** The kinds of weighing on which thresholds and their widening are trained: those measured, and three between. */
export const trainingDesigns: Readonly<Record<string, Omit<CohortDesign, "animals" | "days">>> = {
  ...designs,
  "mostly gut fill": { noise: 0.004, gutFill: { sd: 0.014, rho: 0.5 } },
  "little day-to-day": { noise: 0.015, dayToDay: 0.002 },
  "much day-to-day": { noise: 0.015, dayToDay: 0.004 },
};

export { seededRandom };
