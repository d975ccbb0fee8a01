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
      animals: 175,
      animalWeeks: 2448,
      list: {
        per100Weeks: 8.62,
        low: 7.7,
        high: 9.54,
      },
      weighings: {
        per100Weeks: 0.82,
        low: 0.4,
        high: 1.23,
      },
      danger: {
        per100Weeks: 4.21,
        low: 3.71,
        high: 4.7,
      },
      practice: {
        per100Weeks: 4.49,
        low: 3.79,
        high: 5.2,
      },
      afterArrival: {
        list: {
          per100Weeks: 4.24,
          low: 3.47,
          high: 5,
        },
        weighings: {
          per100Weeks: 0.85,
          low: 0.42,
          high: 1.28,
        },
        danger: {
          per100Weeks: 0.04,
          low: 0,
          high: 0.13,
        },
        practice: {
          per100Weeks: 3.6,
          low: 2.92,
          high: 4.28,
        },
      },
    },
    {
      pages: "demo",
      animals: 175,
      animalWeeks: 2448,
      list: {
        per100Weeks: 8.58,
        low: 7.66,
        high: 9.5,
      },
      weighings: {
        per100Weeks: 0.82,
        low: 0.4,
        high: 1.23,
      },
      danger: {
        per100Weeks: 4.17,
        low: 3.67,
        high: 4.66,
      },
      practice: {
        per100Weeks: 4.49,
        low: 3.79,
        high: 5.2,
      },
      afterArrival: {
        list: {
          per100Weeks: 4.2,
          low: 3.43,
          high: 4.96,
        },
        weighings: {
          per100Weeks: 0.85,
          low: 0.42,
          high: 1.28,
        },
        danger: {
          per100Weeks: 0,
          low: 0,
          high: 0,
        },
        practice: {
          per100Weeks: 3.6,
          low: 2.92,
          high: 4.28,
        },
      },
    },
    {
      pages: "tired",
      animals: 175,
      animalWeeks: 2448,
      list: {
        per100Weeks: 16.22,
        low: 15.02,
        high: 17.42,
      },
      weighings: {
        per100Weeks: 2.12,
        low: 1.44,
        high: 2.81,
      },
      danger: {
        per100Weeks: 4.33,
        low: 3.82,
        high: 4.84,
      },
      practice: {
        per100Weeks: 12.54,
        low: 11.46,
        high: 13.62,
      },
      afterArrival: {
        list: {
          per100Weeks: 12.08,
          low: 11.01,
          high: 13.14,
        },
        weighings: {
          per100Weeks: 2.2,
          low: 1.49,
          high: 2.91,
        },
        danger: {
          per100Weeks: 0.17,
          low: 0.01,
          high: 0.33,
        },
        practice: {
          per100Weeks: 11.87,
          low: 10.8,
          high: 12.93,
        },
      },
    },
  ],
};
