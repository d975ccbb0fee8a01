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
          values: {
            "slowed gain": 4.25,
            level: 4.22,
            gain: 3.85,
            "surprise average": 4.94,
            "surprise sum": 9.08,
            "loss from peak": 5.92,
            "too-fast gain": 5.59,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 3.87,
            level: 3.65,
            gain: 3.59,
            "surprise average": 4.67,
            "surprise sum": 8.49,
            "loss from peak": 5.34,
            "too-fast gain": 5.14,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.4,
            level: 3.04,
            gain: 3.31,
            "surprise average": 4.39,
            "surprise sum": 7.87,
            "loss from peak": 4.73,
            "too-fast gain": 4.67,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.89,
            level: 2.37,
            gain: 3,
            "surprise average": 4.07,
            "surprise sum": 7.18,
            "loss from peak": 4.05,
            "too-fast gain": 4.14,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.39,
            level: 1.72,
            gain: 2.7,
            "surprise average": 3.76,
            "surprise sum": 6.52,
            "loss from peak": 3.39,
            "too-fast gain": 3.63,
          },
        },
      ],
    },
    {
      animals: 3,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 5.08,
            level: 4.3,
            gain: 4.2,
            "surprise average": 4.43,
            "surprise sum": 9.65,
            "loss from peak": 5.91,
            "too-fast gain": 4.49,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.44,
            level: 3.98,
            gain: 3.99,
            "surprise average": 4.24,
            "surprise sum": 9.08,
            "loss from peak": 5.38,
            "too-fast gain": 4.28,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.75,
            level: 3.68,
            gain: 3.8,
            "surprise average": 4.01,
            "surprise sum": 8.42,
            "loss from peak": 4.78,
            "too-fast gain": 4.08,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.99,
            level: 3.25,
            gain: 3.53,
            "surprise average": 3.73,
            "surprise sum": 7.56,
            "loss from peak": 4,
            "too-fast gain": 3.8,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.34,
            level: 2.93,
            gain: 3.33,
            "surprise average": 3.51,
            "surprise sum": 6.91,
            "loss from peak": 3.4,
            "too-fast gain": 3.58,
          },
        },
      ],
    },
    {
      animals: 10,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 5.32,
            level: 4.3,
            gain: 4.2,
            "surprise average": 5.54,
            "surprise sum": 12,
            "loss from peak": 5.3,
            "too-fast gain": 4.49,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.59,
            level: 3.98,
            gain: 3.99,
            "surprise average": 5.18,
            "surprise sum": 11,
            "loss from peak": 4.84,
            "too-fast gain": 4.28,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.84,
            level: 3.68,
            gain: 3.8,
            "surprise average": 4.84,
            "surprise sum": 10.1,
            "loss from peak": 4.43,
            "too-fast gain": 4.08,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 3.08,
            level: 3.25,
            gain: 3.53,
            "surprise average": 4.37,
            "surprise sum": 8.82,
            "loss from peak": 3.84,
            "too-fast gain": 3.8,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.43,
            level: 2.93,
            gain: 3.33,
            "surprise average": 4.01,
            "surprise sum": 7.82,
            "loss from peak": 3.46,
            "too-fast gain": 3.58,
          },
        },
      ],
    },
    {
      animals: 25,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 5.01,
            level: 4.91,
            gain: 4.46,
            "surprise average": 4.52,
            "surprise sum": 10.9,
            "loss from peak": 4.77,
            "too-fast gain": 4.66,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.86,
            level: 4.78,
            gain: 4.39,
            "surprise average": 4.46,
            "surprise sum": 10.7,
            "loss from peak": 4.68,
            "too-fast gain": 4.6,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 4.28,
            level: 4.32,
            gain: 4.16,
            "surprise average": 4.27,
            "surprise sum": 9.91,
            "loss from peak": 4.35,
            "too-fast gain": 4.37,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 3.33,
            level: 3.58,
            gain: 3.8,
            "surprise average": 3.95,
            "surprise sum": 8.68,
            "loss from peak": 3.81,
            "too-fast gain": 4.01,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.5,
            level: 3.08,
            gain: 3.55,
            "surprise average": 3.73,
            "surprise sum": 7.83,
            "loss from peak": 3.44,
            "too-fast gain": 3.76,
          },
        },
      ],
    },
  ],
};
