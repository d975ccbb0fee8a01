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
      measureFirstPct: 5.78,
      planted: 220,
      found: 220,
    },
    {
      pages: "tired",
      animalWeeks: 1059,
      dangerPer100Weeks: 0.85,
      upTo: 1.61,
      measureFirstPct: 6.48,
      planted: 220,
      found: 220,
    },
  ],
};
