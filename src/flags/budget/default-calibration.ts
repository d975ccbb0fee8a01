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
            "slowed gain": 3.91,
            level: 2.88,
            gain: 3.59,
            "surprise average": 4.12,
            "surprise sum": 7.96,
            "loss from peak": 4.39,
            "too-fast gain": 4.44,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 3.62,
            level: 2.58,
            gain: 3.37,
            "surprise average": 3.94,
            "surprise sum": 7.5,
            "loss from peak": 3.99,
            "too-fast gain": 4.16,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.2,
            level: 2.24,
            gain: 3.13,
            "surprise average": 3.74,
            "surprise sum": 6.97,
            "loss from peak": 3.53,
            "too-fast gain": 3.85,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.66,
            level: 1.81,
            gain: 2.84,
            "surprise average": 3.49,
            "surprise sum": 6.34,
            "loss from peak": 3,
            "too-fast gain": 3.46,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.11,
            level: 1.49,
            gain: 2.66,
            "surprise average": 3.33,
            "surprise sum": 5.8,
            "loss from peak": 2.52,
            "too-fast gain": 3.1,
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
            "slowed gain": 4.47,
            level: 4.41,
            gain: 4.1,
            "surprise average": 4.42,
            "surprise sum": 7.47,
            "loss from peak": 5.1,
            "too-fast gain": 4.56,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.06,
            level: 4.05,
            gain: 3.9,
            "surprise average": 4.21,
            "surprise sum": 7.12,
            "loss from peak": 4.62,
            "too-fast gain": 4.33,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.46,
            level: 3.69,
            gain: 3.7,
            "surprise average": 3.98,
            "surprise sum": 6.73,
            "loss from peak": 4.09,
            "too-fast gain": 4.1,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.8,
            level: 3.28,
            gain: 3.49,
            "surprise average": 3.69,
            "surprise sum": 6.24,
            "loss from peak": 3.41,
            "too-fast gain": 3.79,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.17,
            level: 2.88,
            gain: 3.29,
            "surprise average": 3.45,
            "surprise sum": 5.88,
            "loss from peak": 2.85,
            "too-fast gain": 3.52,
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
            "slowed gain": 4.7,
            level: 4.41,
            gain: 4.1,
            "surprise average": 4.93,
            "surprise sum": 10,
            "loss from peak": 6.18,
            "too-fast gain": 4.56,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.09,
            level: 4.05,
            gain: 3.9,
            "surprise average": 4.63,
            "surprise sum": 9.27,
            "loss from peak": 5.31,
            "too-fast gain": 4.33,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.56,
            level: 3.69,
            gain: 3.7,
            "surprise average": 4.32,
            "surprise sum": 8.52,
            "loss from peak": 4.34,
            "too-fast gain": 4.1,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.74,
            level: 3.28,
            gain: 3.49,
            "surprise average": 3.91,
            "surprise sum": 7.5,
            "loss from peak": 3.56,
            "too-fast gain": 3.79,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.1,
            level: 2.88,
            gain: 3.29,
            "surprise average": 3.6,
            "surprise sum": 6.69,
            "loss from peak": 3.17,
            "too-fast gain": 3.52,
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
            "slowed gain": 5.03,
            level: 4.05,
            gain: 4.34,
            "surprise average": 4.77,
            "surprise sum": 10.8,
            "loss from peak": 5.17,
            "too-fast gain": 4.85,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 4.51,
            level: 3.71,
            gain: 4.13,
            "surprise average": 4.51,
            "surprise sum": 9.93,
            "loss from peak": 4.71,
            "too-fast gain": 4.6,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 3.8,
            level: 3.36,
            gain: 3.9,
            "surprise average": 4.24,
            "surprise sum": 9.06,
            "loss from peak": 4.21,
            "too-fast gain": 4.34,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 2.83,
            level: 2.99,
            gain: 3.62,
            "surprise average": 3.9,
            "surprise sum": 7.93,
            "loss from peak": 3.62,
            "too-fast gain": 4,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 2.16,
            level: 2.6,
            gain: 3.45,
            "surprise average": 3.59,
            "surprise sum": 6.85,
            "loss from peak": 3.15,
            "too-fast gain": 3.73,
          },
        },
      ],
    },
  ],
};
