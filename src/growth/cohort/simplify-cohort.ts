import type { CohortModel } from "./cohort-fit.js";

/** Fewest animals for which any difference between animals is estimated. */
export const fewestAnimals = 3;

/**
 * How many animals a model of the differences between animals asks for: three,
 * and one more for each variance and each correlation beyond the first variance.
 * Three variances with their correlations need eight animals. A rule of our own,
 * on the cautious side of common practice (five groups for a single variance is
 * often named; with fewer the interval's t quantile carries the difference).
 *
 * @example animalsNeeded({ random: ["A", "Ti"], covariance: "general" }) // 5
 */
export function animalsNeeded(model: CohortModel): number {
  const q = model.random.length;
  const free = model.covariance === "general" ? (q * (q + 1)) / 2 : q;
  return fewestAnimals - 1 + free;
}

/** The model and its simpler versions, one step at a time, down to one random parameter. */
export function simplerModels(model: CohortModel): CohortModel[] {
  const out: CohortModel[] = [model];
  let at = model;
  for (;;) {
    const next = oneStepSimpler(at);
    if (next === null) return out;
    out.push(next);
    at = next;
  }
}

function oneStepSimpler(model: CohortModel): CohortModel | null {
  if (model.serial) return { ...model, serial: false };
  if (model.variance === "power") return { ...model, variance: "constant" };
  if (model.covariance === "general" && model.random.length > 1) {
    return { ...model, covariance: "diagonal" };
  }
  if (model.random.length > 1) return { ...model, random: model.random.slice(0, -1) };
  return null;
}

/** Simpler versions that this number of animals can carry, the fullest first. */
export function affordableModels(model: CohortModel, animals: number): CohortModel[] {
  return simplerModels(model).filter((m) => animals >= animalsNeeded(m));
}
