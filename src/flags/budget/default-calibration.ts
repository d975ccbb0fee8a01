import type { FlagCalibration } from "./false-flag-budget.js";

/**
 * Thresholds that ship, written by the bench `flag-thresholds` and not by hand:
 * found on simulated healthy nurseries that were watched day by day.
 */
export const defaultCalibration: FlagCalibration = {
  kind: "flag-calibration",
  world:
    "groups of 1 to 25 young, knowing nothing, two earlier seasons or other nurseries; three growth laws, gain that wanders by 2 to 16 %, gut fill that lasts, daily to twice-weekly weighing, checks at arrival, dips at weaning, missed weeks, heavy tails",
  seed: 15101,
  sizes: [
    {
      animals: 1,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [4.25, 4.22, 3.85, 4.94, 9.08, 5.92, 5.59],
        },
        {
          per100Weeks: 1,
          values: [3.87, 3.65, 3.59, 4.67, 8.49, 5.34, 5.14],
        },
        {
          per100Weeks: 2,
          values: [3.4, 3.04, 3.31, 4.39, 7.87, 4.73, 4.67],
        },
        {
          per100Weeks: 5,
          values: [2.89, 2.37, 3, 4.07, 7.18, 4.05, 4.14],
        },
        {
          per100Weeks: 10,
          values: [2.39, 1.72, 2.7, 3.76, 6.52, 3.39, 3.63],
        },
      ],
    },
    {
      animals: 3,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [5.08, 4.3, 4.2, 4.43, 9.65, 5.91, 4.49],
        },
        {
          per100Weeks: 1,
          values: [4.44, 3.98, 3.99, 4.24, 9.08, 5.38, 4.28],
        },
        {
          per100Weeks: 2,
          values: [3.75, 3.68, 3.8, 4.01, 8.42, 4.78, 4.08],
        },
        {
          per100Weeks: 5,
          values: [2.99, 3.25, 3.53, 3.73, 7.56, 4, 3.8],
        },
        {
          per100Weeks: 10,
          values: [2.34, 2.93, 3.33, 3.51, 6.91, 3.4, 3.58],
        },
      ],
    },
    {
      animals: 10,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [5.32, 4.3, 4.2, 5.54, 12, 5.3, 4.49],
        },
        {
          per100Weeks: 1,
          values: [4.59, 3.98, 3.99, 5.18, 11, 4.84, 4.28],
        },
        {
          per100Weeks: 2,
          values: [3.84, 3.68, 3.8, 4.84, 10.1, 4.43, 4.08],
        },
        {
          per100Weeks: 5,
          values: [3.08, 3.25, 3.53, 4.37, 8.82, 3.84, 3.8],
        },
        {
          per100Weeks: 10,
          values: [2.43, 2.93, 3.33, 4.01, 7.82, 3.46, 3.58],
        },
      ],
    },
    {
      animals: 25,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [5.01, 4.91, 4.46, 4.52, 10.9, 4.77, 4.66],
        },
        {
          per100Weeks: 1,
          values: [4.86, 4.78, 4.39, 4.46, 10.7, 4.68, 4.6],
        },
        {
          per100Weeks: 2,
          values: [4.28, 4.32, 4.16, 4.27, 9.91, 4.35, 4.37],
        },
        {
          per100Weeks: 5,
          values: [3.33, 3.58, 3.8, 3.95, 8.68, 3.81, 4.01],
        },
        {
          per100Weeks: 10,
          values: [2.5, 3.08, 3.55, 3.73, 7.83, 3.44, 3.76],
        },
      ],
    },
  ],
};
