/**
 * Weeks in remission of 42 children with leukaemia, 6-mercaptopurine against
 * placebo. Freireich EJ and others (1963) Blood 21:699-716; in Gehan EA (1965)
 * Biometrika 52:203-223.
 */
const mercaptopurine = [6, 6, 6, 7, 10, 13, 16, 22, 23];
const stillInRemission = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35];
const placebo = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23];

export interface Remission {
  readonly weeks: number;
  readonly relapsed: boolean;
  readonly arm: "6-MP" | "placebo";
}

export const remissions: readonly Remission[] = [
  ...mercaptopurine.map((weeks): Remission => ({ weeks, relapsed: true, arm: "6-MP" })),
  ...stillInRemission.map((weeks): Remission => ({ weeks, relapsed: false, arm: "6-MP" })),
  ...placebo.map((weeks): Remission => ({ weeks, relapsed: true, arm: "placebo" })),
];
