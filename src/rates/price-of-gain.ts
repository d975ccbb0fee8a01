import { normalQuantile } from "../stats/distributions/normal.js";
import { fitPricedRate, type PricedRateFit } from "../stats/state-space/fit-priced-rate.js";
import { lastingKept, wanderKept } from "../stats/state-space/priced-rate.js";
import { coursesOf } from "./balance-course.js";
import type { BalanceWindow } from "./balance-window.js";

/**
 * kcal of stated energy that a gram of gain can cost at all. A gram of lean tissue holds
 * a little over 1 kcal, of fat tissue 8 to 9 (general physiology: protein 5.7 and fat 9.4
 * kcal/g, lean tissue three quarters water), and 60 % or more of what is used is kept.
 */
const possiblePrices = { cheapest: 1, dearest: 15 };

/**
 * How far a price is off by what the model does not know (how long gut fill lasts, how a
 * gain wanders), as the standard deviation of its logarithm: the courses do not tell it, so
 * it stands beside what they leave open. Measured where tuning is allowed: in 120 nurseries
 * of training worlds of 55 days, calm, usual and with much gut fill, prices were off by 0.20,
 * 0.18 and 0.23 where their own limits allowed 0.18, 0.18 and 0.21.
 */
const modelError = 0.1;

/** What a gram costs in stretches that carry their weighings, with what stands behind it. */
export interface PriceOfGain {
  readonly fit: PricedRateFit;
  /** One per animal: own upkeep, kcal per kg^0.75 a day, and its variance at that price. */
  readonly animals: readonly {
    readonly animalId: string;
    readonly windows: number;
    readonly upkeep: number;
    readonly variance: number;
  }[];
  /** Change of mean upkeep per unit of price. */
  readonly perPrice: number;
  /** Geometric mean of the masses, kg. */
  readonly referenceKg: number;
  /** Share of the scatter of a week's gain that is real and no error of weighing. */
  readonly reliability: number;
}

/**
 * The price of a gram from weighings and the energy kept between them, day by day: what
 * is kept shows how much of the scatter of the weighings is a gain that wanders, and
 * the rest tells how far gut fill lasts. Null where stretches come without their
 * weighings or nothing can be fitted.
 */
export function priceOfGain(windows: readonly BalanceWindow[]): PriceOfGain | null {
  const read = coursesOf(windows);
  if (read === null) return null;
  const long = read.courses.map((c) => c.time.length >= 3);
  const found = fitPricedRate(read.courses, possiblePrices);
  if (found === null) return null;
  const fit = withModelError(found);
  const ids = read.animalIds.filter((_, i) => long[i]);
  const size = (w: BalanceWindow) => (4 / 3) * Math.log(w.metabolicKg);
  return {
    fit,
    animals: [...new Set(ids)].map((animalId) => {
      const own = fit.upkeep.filter((_, i) => ids[i] === animalId);
      const weight = own.reduce((s, u) => s + 1 / u.variance, 0);
      return {
        animalId,
        windows: windows.filter((w) => w.animalId === animalId).length,
        upkeep: own.reduce((s, u) => s + u.mean / u.variance, 0) / weight,
        variance: 1 / weight,
      };
    }),
    perPrice: fit.upkeep.reduce((s, u) => s + u.perPrice, 0) / fit.upkeep.length,
    referenceKg: Math.exp(windows.reduce((s, w) => s + size(w), 0) / windows.length),
    reliability: reliabilityOf(fit),
  };
}

/** Each limit as far from the price as both errors together reach. */
function withModelError(fit: PricedRateFit): PricedRateFit {
  const reach = normalQuantile(0.975) * modelError;
  return {
    ...fit,
    lower: fit.price * Math.exp(-Math.hypot(Math.log(fit.price / fit.lower), reach)),
    upper: fit.price * Math.exp(Math.hypot(Math.log(fit.upper / fit.price), reach)),
    logSd: Math.hypot(fit.logSd, modelError),
  };
}

/** Of the slope through eight daily weighings. */
function reliabilityOf({ parameters: p }: PricedRateFit): number {
  const days = Array.from({ length: 8 }, (_, i) => i - 3.5);
  const squares = days.reduce((s, d) => s + d * d, 0);
  let error = 0;
  for (const a of days)
    for (const b of days) {
      const alike = p.lastingShare * lastingKept ** Math.abs(a - b);
      const own = a === b ? 1 - p.lastingShare : 0;
      error += ((a * b) / squares ** 2) * (alike + own);
    }
  error *= p.noiseSd ** 2;
  let real = 0;
  for (let i = 0; i < 7; i++) for (let j = 0; j < 7; j++) real += wanderKept ** Math.abs(i - j);
  real *= p.wanderSd ** 2 / 49;
  return real / (real + error);
}
