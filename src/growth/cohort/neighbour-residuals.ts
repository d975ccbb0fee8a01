import type { CohortFitValue } from "./cohort-fit.js";

/**
 * Correlation of an animal's residual with its next one, over the cohort, and
 * how many neighbours it rests on. Where the curve is right and residuals are
 * independent it lies near zero, a little below; a curve of the wrong shape
 * leaves runs of one sign and makes it clearly positive. Intervals then hold far
 * less than they say.
 */
export function neighbourResiduals(value: CohortFitValue): {
  readonly correlation: number;
  readonly pairs: number;
} {
  let cross = 0;
  let square = 0;
  let pairs = 0;
  for (const animal of value.animals) {
    let before: number | null = null;
    animal.masses.forEach((mass, i) => {
      const fitted = animal.fitted[i]!;
      const scale = value.power === null ? 1 : Math.abs(fitted) ** value.power;
      const r = (mass - fitted) / scale;
      square += r * r;
      if (before !== null) {
        cross += r * before;
        pairs++;
      }
      before = r;
    });
  }
  return { correlation: square > 0 ? cross / square : 0, pairs };
}
