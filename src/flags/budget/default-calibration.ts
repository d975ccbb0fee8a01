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
          values: [2.615, 3.954, 3.979, 3.145, 5.993, 3.832, 4.125],
        },
        {
          per100Weeks: 1,
          values: [2.274, 3.743, 3.838, 3.024, 5.688, 3.619, 3.975],
        },
        {
          per100Weeks: 2,
          values: [1.987, 3.478, 3.681, 2.888, 5.338, 3.387, 3.842],
        },
        {
          per100Weeks: 5,
          values: [1.561, 3.072, 3.425, 2.68, 4.808, 3.114, 3.587],
        },
        {
          per100Weeks: 10,
          values: [1.222, 2.669, 3.206, 2.508, 4.284, 2.906, 3.378],
        },
      ],
    },
    {
      animals: 8,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [2.83, 3.585, 4.029, 3.292, 6.253, 3.966, 4.174],
        },
        {
          per100Weeks: 1,
          values: [2.471, 3.412, 3.852, 3.116, 5.9, 3.704, 4.032],
        },
        {
          per100Weeks: 2,
          values: [2.126, 3.116, 3.67, 2.94, 5.538, 3.452, 3.858],
        },
        {
          per100Weeks: 5,
          values: [1.666, 2.7, 3.412, 2.738, 4.907, 3.144, 3.643],
        },
        {
          per100Weeks: 10,
          values: [1.283, 2.355, 3.22, 2.553, 4.375, 2.929, 3.429],
        },
      ],
    },
    {
      animals: 11,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [2.961, 3.408, 4.058, 3.268, 6.152, 3.803, 4.291],
        },
        {
          per100Weeks: 1,
          values: [2.575, 3.161, 3.907, 3.125, 5.808, 3.57, 4.082],
        },
        {
          per100Weeks: 2,
          values: [2.214, 2.973, 3.705, 2.973, 5.385, 3.38, 3.893],
        },
        {
          per100Weeks: 5,
          values: [1.711, 2.6, 3.45, 2.728, 4.755, 3.113, 3.684],
        },
        {
          per100Weeks: 10,
          values: [1.313, 2.305, 3.235, 2.554, 4.312, 2.903, 3.462],
        },
      ],
    },
    {
      animals: 16,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.243, 3.453, 4.097, 3.475, 6.629, 3.786, 4.222],
        },
        {
          per100Weeks: 1,
          values: [2.812, 3.197, 3.926, 3.266, 6.271, 3.56, 4.068],
        },
        {
          per100Weeks: 2,
          values: [2.423, 2.968, 3.757, 3.109, 5.723, 3.358, 3.914],
        },
        {
          per100Weeks: 5,
          values: [1.855, 2.596, 3.465, 2.855, 5.054, 3.104, 3.691],
        },
        {
          per100Weeks: 10,
          values: [1.42, 2.261, 3.263, 2.666, 4.498, 2.904, 3.487],
        },
      ],
    },
    {
      animals: 26,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.466, 3.286, 4.122, 3.56, 6.914, 3.711, 4.473],
        },
        {
          per100Weeks: 1,
          values: [3.044, 3.109, 3.957, 3.402, 6.455, 3.513, 4.227],
        },
        {
          per100Weeks: 2,
          values: [2.603, 2.875, 3.76, 3.199, 5.899, 3.328, 4.023],
        },
        {
          per100Weeks: 5,
          values: [1.998, 2.544, 3.485, 2.948, 5.22, 3.069, 3.715],
        },
        {
          per100Weeks: 10,
          values: [1.531, 2.217, 3.255, 2.753, 4.665, 2.892, 3.492],
        },
      ],
    },
  ],
  realised: realisedRates,
};
