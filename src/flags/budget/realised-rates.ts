import type { RealisedRate } from "./false-flag-budget.js";

/**
 * What the thresholds that ship gave on fresh healthy groups, written by the bench
 * `flags-realised` and not by hand: the span over 9 kinds of weighing.
 */
export const realisedRates: readonly RealisedRate[] = [
  {
    animals: 11,
    per100Weeks: 1,
    mean: [0.92, 1.15],
    low: 0,
    high: 3.18,
  },
  {
    animals: 11,
    per100Weeks: 2,
    mean: [1.88, 2.23],
    low: 0,
    high: 4.59,
  },
  {
    animals: 11,
    per100Weeks: 5,
    mean: [4.72, 5.27],
    low: 1.57,
    high: 9.19,
  },
  {
    animals: 26,
    per100Weeks: 1,
    mean: [0.91, 1.18],
    low: 0,
    high: 2.3,
  },
  {
    animals: 26,
    per100Weeks: 2,
    mean: [1.86, 2.28],
    low: 0.66,
    high: 3.83,
  },
  {
    animals: 26,
    per100Weeks: 5,
    mean: [4.82, 5.61],
    low: 3.14,
    high: 7.89,
  },
];
