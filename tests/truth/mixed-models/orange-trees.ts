/**
 * Trunk circumference (mm) of five orange trees at seven ages (days).
 * Source: Draper NR, Smith H (1998) Applied Regression Analysis, 3rd ed., exercise 24.N;
 * figures re-keyed.
 */
export const orangeAges = [118, 484, 664, 1004, 1231, 1372, 1582];
export const orangeTrees: Readonly<Record<string, readonly number[]>> = {
  "1": [30, 58, 87, 115, 120, 142, 145],
  "2": [33, 69, 111, 156, 172, 203, 203],
  "3": [30, 51, 75, 108, 115, 139, 140],
  "4": [32, 62, 112, 167, 179, 209, 214],
  "5": [30, 49, 81, 125, 142, 174, 177],
};
