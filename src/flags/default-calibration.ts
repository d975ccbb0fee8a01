import type { FlagCalibration } from "./false-flag-budget.js";

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
          values: [2.933, 4.189, 3.977, 3.392, 6.834, 3.764, 4.084],
        },
        {
          per100Weeks: 1,
          values: [2.598, 3.762, 3.833, 3.228, 6.069, 3.508, 3.924],
        },
        {
          per100Weeks: 2,
          values: [2.231, 3.459, 3.677, 3.096, 5.711, 3.37, 3.79],
        },
        {
          per100Weeks: 5,
          values: [1.773, 2.982, 3.406, 2.87, 5.124, 3.094, 3.585],
        },
        {
          per100Weeks: 10,
          values: [1.371, 2.548, 3.184, 2.685, 4.696, 2.858, 3.362],
        },
      ],
    },
    {
      animals: 8,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.066, 3.633, 3.975, 3.441, 7.253, 3.972, 4.311],
        },
        {
          per100Weeks: 1,
          values: [2.696, 3.397, 3.803, 3.283, 6.612, 3.56, 4.097],
        },
        {
          per100Weeks: 2,
          values: [2.305, 3.064, 3.638, 3.125, 6.075, 3.361, 3.871],
        },
        {
          per100Weeks: 5,
          values: [1.802, 2.665, 3.397, 2.919, 5.377, 3.051, 3.632],
        },
        {
          per100Weeks: 10,
          values: [1.374, 2.289, 3.182, 2.714, 4.869, 2.845, 3.405],
        },
      ],
    },
    {
      animals: 11,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.157, 3.441, 3.928, 3.46, 7.016, 3.706, 4.38],
        },
        {
          per100Weeks: 1,
          values: [2.744, 3.243, 3.782, 3.187, 6.679, 3.465, 4.135],
        },
        {
          per100Weeks: 2,
          values: [2.379, 2.996, 3.622, 3.07, 6.094, 3.285, 3.929],
        },
        {
          per100Weeks: 5,
          values: [1.817, 2.546, 3.399, 2.891, 5.372, 3.048, 3.664],
        },
        {
          per100Weeks: 10,
          values: [1.391, 2.259, 3.196, 2.716, 4.78, 2.85, 3.453],
        },
      ],
    },
    {
      animals: 16,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.139, 3.282, 4.144, 3.431, 6.739, 3.57, 4.288],
        },
        {
          per100Weeks: 1,
          values: [2.746, 3.122, 3.963, 3.274, 6.316, 3.435, 4.118],
        },
        {
          per100Weeks: 2,
          values: [2.379, 2.895, 3.748, 3.157, 5.828, 3.312, 3.917],
        },
        {
          per100Weeks: 5,
          values: [1.824, 2.576, 3.477, 2.889, 5.142, 3.068, 3.662],
        },
        {
          per100Weeks: 10,
          values: [1.39, 2.241, 3.238, 2.694, 4.681, 2.837, 3.44],
        },
      ],
    },
    {
      animals: 26,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.245, 3.341, 4.248, 3.432, 6.334, 3.614, 4.258],
        },
        {
          per100Weeks: 1,
          values: [2.828, 3.166, 4.034, 3.323, 6.155, 3.447, 4.095],
        },
        {
          per100Weeks: 2,
          values: [2.419, 2.895, 3.771, 3.162, 5.794, 3.298, 3.99],
        },
        {
          per100Weeks: 5,
          values: [1.856, 2.506, 3.433, 2.924, 5.283, 3.044, 3.638],
        },
        {
          per100Weeks: 10,
          values: [1.4, 2.208, 3.206, 2.701, 4.698, 2.838, 3.441],
        },
      ],
    },
  ],
};
