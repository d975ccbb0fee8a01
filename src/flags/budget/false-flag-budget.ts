import { UsageError } from "../../core/usage-error.js";
import { type PerStatistic, perStatistic } from "../watch/watched-day.js";

/**
 * How the false flags are shared among the statistics that come from weighings
 * (sum 1): most go to the one that finds a slow gainer first.
 */
export const budgetShares: PerStatistic = {
  "slowed gain": 0.9,
  level: 0.02,
  gain: 0.02,
  "surprise average": 0.01,
  "surprise sum": 0.01,
  "loss from peak": 0.03,
  "too-fast gain": 0.01,
};

/** Thresholds for three budgets at one size of group. */
export interface CalibratedSize {
  /** Animals watched together (an animal and its contemporaries). */
  readonly animals: number;
  /** Per budget (false flags per 100 healthy animal-weeks): one threshold per statistic. */
  readonly thresholds: readonly {
    readonly per100Weeks: number;
    readonly values: PerStatistic;
  }[];
}

/** False flags per 100 healthy animal-weeks that came of one number asked for, in simulated groups of one size. */
export interface RealisedRate {
  readonly animals: number;
  readonly per100Weeks: number;
  /** Mean over groups, in the kind of weighing with the lowest and with the highest mean. */
  readonly mean: readonly [lowest: number, highest: number];
  /** Rates of single groups: 10th and 90th centile, the widest over the kinds of weighing. */
  readonly low: number;
  readonly high: number;
}

/** False flags that came of one number asked for in invented nurseries on which nothing was tuned. */
export interface HeldOutRate {
  readonly per100Weeks: number;
  /** Kinds of nursery, and what came over all of them: per 100 weeks judged, and in care. */
  readonly worlds: number;
  readonly rate: number;
  readonly inCare: number;
  readonly lowest: { readonly world: string; readonly rate: number };
  readonly highest: { readonly world: string; readonly rate: number };
}

/** A calibration: a value that is passed in and handed back, never kept behind the scenes. */
export interface FlagCalibration {
  readonly kind: "flag-calibration";
  /** What was simulated, in words. */
  readonly world: string;
  readonly seed: number;
  readonly sizes: readonly CalibratedSize[];
  /** What the thresholds gave on healthy groups, where measured. */
  readonly realised?: readonly RealisedRate[];
}

/**
 * Thresholds for a number of false flags per 100 healthy animal-weeks and a size
 * of group: ln threshold is interpolated in ln budget and in 1/animals. Outside
 * the calibrated budgets nothing is extrapolated: a UsageError says the range.
 * Outside the calibrated sizes the nearest size serves.
 *
 * @throws UsageError for a budget outside the calibrated range.
 * @example thresholdsFor(calibration, 2, 12)["slowed gain"] // 2.4
 */
export function thresholdsFor(
  calibration: FlagCalibration,
  per100Weeks: number,
  animals: number,
): PerStatistic {
  const sizes = calibration.sizes.slice().sort((a, b) => a.animals - b.animals);
  const budgets = sizes[0]?.thresholds.map((t) => t.per100Weeks) ?? [];
  const least = Math.min(...budgets);
  const most = Math.max(...budgets);
  if (!(per100Weeks >= least && per100Weeks <= most)) {
    throw new UsageError({
      needed: `between ${least} and ${most} false flags per 100 healthy animal-weeks`,
      came: `${per100Weeks} was asked for`,
      where: "falseFlagsPer100AnimalWeeks",
      todo: "Choose a number in this range, or calibrate for another one.",
    });
  }
  const low = sizes.filter((s) => s.animals <= animals).at(-1) ?? sizes[0]!;
  const high = sizes.find((s) => s.animals >= animals) ?? sizes.at(-1)!;
  const w =
    low === high ? 0 : (1 / low.animals - 1 / animals) / (1 / low.animals - 1 / high.animals);
  const a = atBudget(low, per100Weeks);
  const b = atBudget(high, per100Weeks);
  return perStatistic((kind) => {
    const from = Math.log(a[kind]);
    return Math.exp(from + w * (Math.log(b[kind]) - from));
  });
}

function atBudget(size: CalibratedSize, per100Weeks: number): PerStatistic {
  const rows = size.thresholds.slice().sort((a, b) => a.per100Weeks - b.per100Weeks);
  const low = rows.filter((r) => r.per100Weeks <= per100Weeks).at(-1) ?? rows[0]!;
  const high = rows.find((r) => r.per100Weeks >= per100Weeks) ?? rows.at(-1)!;
  if (low === high) return low.values;
  const w = Math.log(per100Weeks / low.per100Weeks) / Math.log(high.per100Weeks / low.per100Weeks);
  return perStatistic((kind) => {
    const from = low.values[kind];
    return Math.exp(Math.log(from) + w * Math.log(high.values[kind] / from));
  });
}
