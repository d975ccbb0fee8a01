import type { MeasuredLevelRates } from "./rule-rates.js";

/**
 * How often healthy animals stood as danger or measure first, written by the bench
 * `levels` and not by hand: invented nurseries read page by page at the default limits.
 */
export const measuredLevelRates: MeasuredLevelRates = {
  kind: "measured-level-rates",
  seed: 14405000,
  worlds: [
    {
      pages: "full",
      animalWeeks: 1069,
      dangerPer100Weeks: 0.28,
      upTo: 0.82,
      measureFirstPct: 5.17,
      planted: 220,
      found: 220,
    },
    {
      pages: "tired",
      animalWeeks: 1059,
      dangerPer100Weeks: 2.64,
      upTo: 3.82,
      measureFirstPct: 5.57,
      planted: 220,
      found: 220,
    },
  ],
};
