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
        per100Weeks: 3.95,
        low: 3.52,
        high: 4.39,
      },
      weighings: {
        per100Weeks: 0.81,
        low: 0.45,
        high: 1.18,
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
          per100Weeks: 1.21,
          low: 0.9,
          high: 1.53,
        },
        weighings: {
          per100Weeks: 0.84,
          low: 0.47,
          high: 1.22,
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
        per100Weeks: 5.61,
        low: 4.96,
        high: 6.26,
      },
      weighings: {
        per100Weeks: 0.81,
        low: 0.45,
        high: 1.18,
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
          per100Weeks: 2.85,
          low: 2.28,
          high: 3.42,
        },
        weighings: {
          per100Weeks: 0.84,
          low: 0.47,
          high: 1.22,
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
        per100Weeks: 10.26,
        low: 9.44,
        high: 11.07,
      },
      weighings: {
        per100Weeks: 0.98,
        low: 0.59,
        high: 1.37,
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
          per100Weeks: 7.48,
          low: 6.68,
          high: 8.28,
        },
        weighings: {
          per100Weeks: 1.02,
          low: 0.61,
          high: 1.42,
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
