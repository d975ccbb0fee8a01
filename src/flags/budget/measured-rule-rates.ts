import type { MeasuredRuleRates } from "./rule-rates.js";

/**
 * How often healthy animals were named, written by the bench `flags-rules` and not
 * by hand: invented nurseries replayed day by day at the default limits.
 */
export const measuredRuleRates: MeasuredRuleRates = {
  kind: "measured-rule-rates",
  seeds: [61301, 61302, 61303, 61304, 61305],
  worlds: [
    {
      pages: "full",
      animals: 230,
      animalWeeks: 4173,
      list: {
        per100Weeks: 3.91,
        low: 3.48,
        high: 4.34,
      },
      weighings: {
        per100Weeks: 0.74,
        low: 0.4,
        high: 1.08,
      },
      danger: {
        per100Weeks: 2.88,
        low: 2.56,
        high: 3.19,
      },
      practice: {
        per100Weeks: 0.5,
        low: 0.3,
        high: 0.71,
      },
      afterArrival: {
        list: {
          per100Weeks: 1.16,
          low: 0.85,
          high: 1.48,
        },
        weighings: {
          per100Weeks: 0.77,
          low: 0.41,
          high: 1.12,
        },
        danger: {
          per100Weeks: 0.1,
          low: 0,
          high: 0.2,
        },
        practice: {
          per100Weeks: 0.52,
          low: 0.31,
          high: 0.73,
        },
      },
    },
    {
      pages: "demo",
      animals: 230,
      animalWeeks: 4173,
      list: {
        per100Weeks: 5.56,
        low: 4.91,
        high: 6.21,
      },
      weighings: {
        per100Weeks: 0.74,
        low: 0.4,
        high: 1.08,
      },
      danger: {
        per100Weeks: 4.6,
        low: 4.02,
        high: 5.18,
      },
      practice: {
        per100Weeks: 0.5,
        low: 0.3,
        high: 0.71,
      },
      afterArrival: {
        list: {
          per100Weeks: 2.8,
          low: 2.23,
          high: 3.37,
        },
        weighings: {
          per100Weeks: 0.77,
          low: 0.41,
          high: 1.12,
        },
        danger: {
          per100Weeks: 1.81,
          low: 1.34,
          high: 2.28,
        },
        practice: {
          per100Weeks: 0.52,
          low: 0.31,
          high: 0.73,
        },
      },
    },
    {
      pages: "tired",
      animals: 230,
      animalWeeks: 4173,
      list: {
        per100Weeks: 10.21,
        low: 9.39,
        high: 11.02,
      },
      weighings: {
        per100Weeks: 0.91,
        low: 0.54,
        high: 1.28,
      },
      danger: {
        per100Weeks: 7.21,
        low: 6.39,
        high: 8.04,
      },
      practice: {
        per100Weeks: 2.88,
        low: 2.27,
        high: 3.48,
      },
      afterArrival: {
        list: {
          per100Weeks: 7.43,
          low: 6.63,
          high: 8.23,
        },
        weighings: {
          per100Weeks: 0.94,
          low: 0.56,
          high: 1.32,
        },
        danger: {
          per100Weeks: 4.51,
          low: 3.81,
          high: 5.2,
        },
        practice: {
          per100Weeks: 2.67,
          low: 2.08,
          high: 3.28,
        },
      },
    },
  ],
};
