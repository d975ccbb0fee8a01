import type { FlagCalibration } from "./false-flag-budget.js";
import { realisedRates } from "./realised-rates.js";

/**
 * Thresholds that ship, written by the bench `flag-thresholds` and not by hand:
 * found on simulated healthy groups that were drawn and re-estimated day by day.
 */
export const defaultCalibration: FlagCalibration = {
  kind: "flag-calibration",
  world:
    "groups of 5 to 26 young, 9 weeks of daily weighing, 1.5 % noise in six mixtures of independent error, gut fill, day-to-day gain, meals, wet coats, carried and missed weighings",
  seed: 20311,
  sizes: [
    {
      animals: 5,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [2.681, 4.014, 3.93, 3.267, 6.445, 3.872, 4.165],
        },
        {
          per100Weeks: 1,
          values: [2.377, 3.773, 3.823, 3.127, 5.98, 3.656, 4.007],
        },
        {
          per100Weeks: 2,
          values: [2.05, 3.496, 3.662, 2.956, 5.51, 3.389, 3.847],
        },
        {
          per100Weeks: 5,
          values: [1.599, 3.012, 3.394, 2.722, 4.889, 3.098, 3.646],
        },
        {
          per100Weeks: 10,
          values: [1.24, 2.553, 3.19, 2.552, 4.462, 2.877, 3.416],
        },
      ],
    },
    {
      animals: 8,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [2.911, 3.596, 4.011, 3.276, 6.293, 3.842, 4.232],
        },
        {
          per100Weeks: 1,
          values: [2.519, 3.356, 3.845, 3.129, 5.98, 3.592, 4.086],
        },
        {
          per100Weeks: 2,
          values: [2.141, 3.098, 3.657, 2.974, 5.6, 3.361, 3.87],
        },
        {
          per100Weeks: 5,
          values: [1.657, 2.676, 3.404, 2.761, 5.015, 3.068, 3.625],
        },
        {
          per100Weeks: 10,
          values: [1.269, 2.314, 3.191, 2.603, 4.545, 2.857, 3.421],
        },
      ],
    },
    {
      animals: 11,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [2.98, 3.399, 4.023, 3.296, 6.604, 3.733, 4.254],
        },
        {
          per100Weeks: 1,
          values: [2.61, 3.181, 3.869, 3.137, 6.087, 3.468, 4.073],
        },
        {
          per100Weeks: 2,
          values: [2.228, 2.958, 3.675, 3.008, 5.593, 3.291, 3.855],
        },
        {
          per100Weeks: 5,
          values: [1.705, 2.594, 3.435, 2.8, 5.031, 3.05, 3.626],
        },
        {
          per100Weeks: 10,
          values: [1.299, 2.291, 3.214, 2.62, 4.474, 2.848, 3.426],
        },
      ],
    },
    {
      animals: 16,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.222, 3.407, 4.134, 3.409, 6.913, 3.639, 4.228],
        },
        {
          per100Weeks: 1,
          values: [2.816, 3.212, 3.97, 3.277, 6.194, 3.452, 4.081],
        },
        {
          per100Weeks: 2,
          values: [2.411, 2.9, 3.735, 3.129, 5.775, 3.281, 3.885],
        },
        {
          per100Weeks: 5,
          values: [1.849, 2.555, 3.462, 2.889, 5.168, 3.034, 3.64],
        },
        {
          per100Weeks: 10,
          values: [1.41, 2.234, 3.219, 2.709, 4.688, 2.826, 3.437],
        },
      ],
    },
    {
      animals: 26,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.49, 3.292, 4.161, 3.508, 6.919, 3.62, 4.295],
        },
        {
          per100Weeks: 1,
          values: [3.033, 3.112, 3.956, 3.353, 6.368, 3.459, 4.125],
        },
        {
          per100Weeks: 2,
          values: [2.594, 2.867, 3.753, 3.211, 5.983, 3.282, 3.962],
        },
        {
          per100Weeks: 5,
          values: [2.003, 2.516, 3.455, 2.985, 5.39, 3.037, 3.668],
        },
        {
          per100Weeks: 10,
          values: [1.513, 2.192, 3.217, 2.779, 4.782, 2.834, 3.447],
        },
      ],
    },
  ],
  realised: realisedRates,
};
