/**
 * Distance (mm) from pituitary to pterygomaxillary fissure at ages 8, 10, 12 and
 * 14 years of 16 boys (M) and 11 girls (F).
 * Source: Potthoff RF, Roy SN (1964) Biometrika 51:313-326, table 1; figures re-keyed.
 */
export const jawAges = [8, 10, 12, 14];
export const jawDistances: Readonly<Record<string, readonly number[]>> = {
  F01: [21, 20, 21.5, 23],
  F02: [21, 21.5, 24, 25.5],
  F03: [20.5, 24, 24.5, 26],
  F04: [23.5, 24.5, 25, 26.5],
  F05: [21.5, 23, 22.5, 23.5],
  F06: [20, 21, 21, 22.5],
  F07: [21.5, 22.5, 23, 25],
  F08: [23, 23, 23.5, 24],
  F09: [20, 21, 22, 21.5],
  F10: [16.5, 19, 19, 19.5],
  F11: [24.5, 25, 28, 28],
  M01: [26, 25, 29, 31],
  M02: [21.5, 22.5, 23, 26.5],
  M03: [23, 22.5, 24, 27.5],
  M04: [25.5, 27.5, 26.5, 27],
  M05: [20, 23.5, 22.5, 26],
  M06: [24.5, 25.5, 27, 28.5],
  M07: [22, 22, 24.5, 26.5],
  M08: [24, 21.5, 24.5, 25.5],
  M09: [23, 20.5, 31, 26],
  M10: [27.5, 28, 31, 31.5],
  M11: [23, 23, 23.5, 25],
  M12: [21.5, 23.5, 24, 28],
  M13: [17, 24.5, 26, 29.5],
  M14: [22.5, 25.5, 25.5, 26],
  M15: [23, 24.5, 26, 30],
  M16: [22, 21.5, 23.5, 25],
};

/** The distances as rows, and the design with an intercept, age, sex and both together. */
export function jawRows() {
  const subjects = Object.entries(jawDistances);
  const response = subjects.flatMap(([, d]) => d);
  const age = subjects.flatMap(() => jawAges);
  const girl = subjects.flatMap(([s]) => jawAges.map(() => (s.startsWith("F") ? 1 : 0)));
  const subject = subjects.flatMap(([s]) => jawAges.map(() => s));
  const one = response.map(() => 1);
  const fixed = {
    names: ["one", "age", "girl", "age:girl"],
    columns: [one, age, girl, age.map((v, i) => v * girl[i]!)],
  };
  return { response, age, girl, subject, one, fixed };
}
