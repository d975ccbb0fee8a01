import type { MeasuredLevelRates } from "./rule-rates.js";

/**
 * How often healthy animals stood as danger or measure first, written by the bench
 * `levels` and not by hand: invented nurseries read page by page at the default limits.
 */
export const measuredLevelRates: MeasuredLevelRates = {
  kind: "measured-level-rates",
  seed: 14395000,
  worlds: [
    {
      pages: "full",
      animalWeeks: 1061,
      dangerPer100Weeks: 0.19,
      upTo: 0.68,
      measureFirstPct: 6.23,
      planted: 220,
      found: 220,
    },
    {
      pages: "tired",
      animalWeeks: 1069,
      dangerPer100Weeks: 2.43,
      upTo: 3.56,
      measureFirstPct: 4.81,
      planted: 220,
      found: 220,
    },
  ],
};
