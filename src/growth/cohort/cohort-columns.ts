import { UsageError } from "../../core/usage-error.js";
import type { AnimalHistory } from "./animal-history.js";
import type { CohortCovariate } from "./cohort-fit.js";

/** Finds out what each covariate is: a number counted from its mean, or a factor with levels. */
export function describeCovariates(
  histories: readonly AnimalHistory[],
  names: readonly string[],
): CohortCovariate[] {
  return names.map((name) => {
    const values = histories.map((h) => h.covariates![name]!);
    if (values.every((v) => typeof v === "number")) {
      const numbers = values as number[];
      return { name, kind: "number", centre: numbers.reduce((s, v) => s + v, 0) / numbers.length };
    }
    return { name, kind: "factor", levels: [...new Set(values.map(String))].sort() };
  });
}

/** Column names a covariate stands for: its own, or one for each level but the first. */
export function columnNames(covariate: CohortCovariate): string[] {
  return covariate.kind === "number"
    ? [covariate.name]
    : covariate.levels.slice(1).map((level) => `${covariate.name}=${level}`);
}

/**
 * The columns' values for one animal.
 *
 * @throws UsageError when a covariate is missing, not a number, or of an unknown level.
 */
export function columnValues(
  covariates: readonly CohortCovariate[],
  given: Readonly<Record<string, string | number>>,
  where: string,
): Record<string, number> {
  const out: Record<string, number> = {};
  for (const covariate of covariates) {
    const value = given[covariate.name];
    if (value === undefined) {
      throw new UsageError({
        needed: `the animal's ${covariate.name}, on which this cohort model rests`,
        came: "it was not given",
        where,
        todo: `Give covariates: { "${covariate.name}": ... }.`,
      });
    }
    if (covariate.kind === "number") {
      if (typeof value !== "number" || !Number.isFinite(value)) {
        throw new UsageError({
          needed: `a number for ${covariate.name}`,
          came: `"${value}" came`,
          where,
          todo: "Give it in the unit the cohort was fitted with.",
        });
      }
      out[covariate.name] = value - covariate.centre;
      continue;
    }
    if (!covariate.levels.includes(String(value))) {
      throw new UsageError({
        needed: `one of ${covariate.levels.join(", ")} for ${covariate.name}`,
        came: `"${value}" came`,
        where,
        todo: "The cohort has no animal of that kind; refit with some, or leave the covariate out.",
      });
    }
    for (const level of covariate.levels.slice(1)) {
      out[`${covariate.name}=${level}`] = String(value) === level ? 1 : 0;
    }
  }
  return out;
}
