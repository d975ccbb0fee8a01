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
          values: [2.937, 4.194, 3.979, 3.395, 6.841, 3.766, 4.087],
        },
        {
          per100Weeks: 1,
          values: [2.6, 3.763, 3.834, 3.229, 6.072, 3.509, 3.925],
        },
        {
          per100Weeks: 2,
          values: [2.232, 3.462, 3.678, 3.093, 5.715, 3.371, 3.793],
        },
        {
          per100Weeks: 5,
          values: [1.775, 2.985, 3.408, 2.869, 5.128, 3.093, 3.587],
        },
        {
          per100Weeks: 10,
          values: [1.374, 2.551, 3.187, 2.684, 4.702, 2.858, 3.365],
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
          values: [2.697, 3.398, 3.804, 3.283, 6.613, 3.561, 4.098],
        },
        {
          per100Weeks: 2,
          values: [2.305, 3.064, 3.638, 3.125, 6.075, 3.361, 3.871],
        },
        {
          per100Weeks: 5,
          values: [1.803, 2.666, 3.398, 2.919, 5.379, 3.052, 3.633],
        },
        {
          per100Weeks: 10,
          values: [1.375, 2.289, 3.182, 2.714, 4.869, 2.845, 3.405],
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
          values: [1.817, 2.546, 3.399, 2.891, 5.372, 3.048, 3.665],
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
          values: [3.379, 3.284, 4.152, 3.517, 7.212, 3.573, 4.292],
        },
        {
          per100Weeks: 1,
          values: [2.971, 3.124, 3.965, 3.411, 6.727, 3.436, 4.119],
        },
        {
          per100Weeks: 2,
          values: [2.566, 2.894, 3.745, 3.273, 6.081, 3.311, 3.915],
        },
        {
          per100Weeks: 5,
          values: [1.972, 2.576, 3.478, 2.998, 5.402, 3.068, 3.662],
        },
        {
          per100Weeks: 10,
          values: [1.504, 2.24, 3.237, 2.8, 4.901, 2.836, 3.439],
        },
      ],
    },
    {
      animals: 26,
      thresholds: [
        {
          per100Weeks: 0.5,
          values: [3.729, 3.341, 4.248, 3.672, 6.983, 3.613, 4.258],
        },
        {
          per100Weeks: 1,
          values: [3.242, 3.162, 4.03, 3.529, 6.701, 3.445, 4.093],
        },
        {
          per100Weeks: 2,
          values: [2.765, 2.89, 3.764, 3.39, 6.279, 3.295, 3.988],
        },
        {
          per100Weeks: 5,
          values: [2.131, 2.507, 3.434, 3.158, 5.751, 3.044, 3.638],
        },
        {
          per100Weeks: 10,
          values: [1.62, 2.205, 3.205, 2.926, 5.125, 2.837, 3.44],
        },
      ],
    },
  ],
  between: [
    { per100Weeks: 1, low: 0, high: 2.12 },
    { per100Weeks: 2, low: 0, high: 3.18 },
    { per100Weeks: 5, low: 2.12, high: 7.42 },
  ],
};
