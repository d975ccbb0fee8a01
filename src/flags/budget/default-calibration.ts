import type { FlagCalibration } from "./false-flag-budget.js";
import { realisedRates } from "./realised-rates.js";

/**
 * Thresholds that ship, written by the bench `flag-thresholds` and not by hand:
 * found on simulated healthy groups that were drawn and re-estimated day by day.
 */
export const defaultCalibration: FlagCalibration = {
  kind: "flag-calibration",
  world:
    "groups of 5 to 26 young, 9 weeks of daily weighing, 1.5 % noise in twelve mixtures of independent error, gut fill, day-to-day gain, meals, wet coats, carried and missed weighings",
  seed: 20311,
  sizes: [
    {
      animals: 5,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 2.615,
            level: 3.954,
            gain: 3.979,
            "surprise average": 3.145,
            "surprise sum": 5.993,
            "loss from peak": 3.832,
            "too-fast gain": 4.125,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 2.274,
            level: 3.743,
            gain: 3.838,
            "surprise average": 3.024,
            "surprise sum": 5.688,
            "loss from peak": 3.619,
            "too-fast gain": 3.975,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 1.987,
            level: 3.478,
            gain: 3.681,
            "surprise average": 2.888,
            "surprise sum": 5.338,
            "loss from peak": 3.387,
            "too-fast gain": 3.842,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 1.561,
            level: 3.072,
            gain: 3.425,
            "surprise average": 2.68,
            "surprise sum": 4.808,
            "loss from peak": 3.114,
            "too-fast gain": 3.587,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 1.222,
            level: 2.669,
            gain: 3.206,
            "surprise average": 2.508,
            "surprise sum": 4.284,
            "loss from peak": 2.906,
            "too-fast gain": 3.378,
          },
        },
      ],
    },
    {
      animals: 8,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 2.83,
            level: 3.585,
            gain: 4.029,
            "surprise average": 3.292,
            "surprise sum": 6.253,
            "loss from peak": 3.966,
            "too-fast gain": 4.174,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 2.471,
            level: 3.412,
            gain: 3.852,
            "surprise average": 3.116,
            "surprise sum": 5.9,
            "loss from peak": 3.704,
            "too-fast gain": 4.032,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 2.126,
            level: 3.116,
            gain: 3.67,
            "surprise average": 2.94,
            "surprise sum": 5.538,
            "loss from peak": 3.452,
            "too-fast gain": 3.858,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 1.666,
            level: 2.7,
            gain: 3.412,
            "surprise average": 2.738,
            "surprise sum": 4.907,
            "loss from peak": 3.144,
            "too-fast gain": 3.643,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 1.283,
            level: 2.355,
            gain: 3.22,
            "surprise average": 2.553,
            "surprise sum": 4.375,
            "loss from peak": 2.929,
            "too-fast gain": 3.429,
          },
        },
      ],
    },
    {
      animals: 11,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 2.961,
            level: 3.408,
            gain: 4.058,
            "surprise average": 3.268,
            "surprise sum": 6.152,
            "loss from peak": 3.803,
            "too-fast gain": 4.291,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 2.575,
            level: 3.161,
            gain: 3.907,
            "surprise average": 3.125,
            "surprise sum": 5.808,
            "loss from peak": 3.57,
            "too-fast gain": 4.082,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 2.214,
            level: 2.973,
            gain: 3.705,
            "surprise average": 2.973,
            "surprise sum": 5.385,
            "loss from peak": 3.38,
            "too-fast gain": 3.893,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 1.711,
            level: 2.6,
            gain: 3.45,
            "surprise average": 2.728,
            "surprise sum": 4.755,
            "loss from peak": 3.113,
            "too-fast gain": 3.684,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 1.313,
            level: 2.305,
            gain: 3.235,
            "surprise average": 2.554,
            "surprise sum": 4.312,
            "loss from peak": 2.903,
            "too-fast gain": 3.462,
          },
        },
      ],
    },
    {
      animals: 16,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 3.243,
            level: 3.453,
            gain: 4.097,
            "surprise average": 3.475,
            "surprise sum": 6.629,
            "loss from peak": 3.786,
            "too-fast gain": 4.222,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 2.812,
            level: 3.197,
            gain: 3.926,
            "surprise average": 3.266,
            "surprise sum": 6.271,
            "loss from peak": 3.56,
            "too-fast gain": 4.068,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 2.423,
            level: 2.968,
            gain: 3.757,
            "surprise average": 3.109,
            "surprise sum": 5.723,
            "loss from peak": 3.358,
            "too-fast gain": 3.914,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 1.855,
            level: 2.596,
            gain: 3.465,
            "surprise average": 2.855,
            "surprise sum": 5.054,
            "loss from peak": 3.104,
            "too-fast gain": 3.691,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 1.42,
            level: 2.261,
            gain: 3.263,
            "surprise average": 2.666,
            "surprise sum": 4.498,
            "loss from peak": 2.904,
            "too-fast gain": 3.487,
          },
        },
      ],
    },
    {
      animals: 26,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: {
            "slowed gain": 3.466,
            level: 3.286,
            gain: 4.122,
            "surprise average": 3.56,
            "surprise sum": 6.914,
            "loss from peak": 3.711,
            "too-fast gain": 4.473,
          },
        },
        {
          per100Weeks: 1,
          values: {
            "slowed gain": 3.044,
            level: 3.109,
            gain: 3.957,
            "surprise average": 3.402,
            "surprise sum": 6.455,
            "loss from peak": 3.513,
            "too-fast gain": 4.227,
          },
        },
        {
          per100Weeks: 2,
          values: {
            "slowed gain": 2.603,
            level: 2.875,
            gain: 3.76,
            "surprise average": 3.199,
            "surprise sum": 5.899,
            "loss from peak": 3.328,
            "too-fast gain": 4.023,
          },
        },
        {
          per100Weeks: 5,
          values: {
            "slowed gain": 1.998,
            level: 2.544,
            gain: 3.485,
            "surprise average": 2.948,
            "surprise sum": 5.22,
            "loss from peak": 3.069,
            "too-fast gain": 3.715,
          },
        },
        {
          per100Weeks: 10,
          values: {
            "slowed gain": 1.531,
            level: 2.217,
            gain: 3.255,
            "surprise average": 2.753,
            "surprise sum": 4.665,
            "loss from peak": 2.892,
            "too-fast gain": 3.492,
          },
        },
      ],
    },
  ],
  realised: realisedRates,
};
