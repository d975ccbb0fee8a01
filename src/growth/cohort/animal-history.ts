import type { AnimalSeries } from "../../series/animal-series.js";

/** What a cohort model reads of one animal. */
export interface AnimalHistory {
  readonly animal: string;
  /** Ages, or days since admission, in the cohort's unit (default days). */
  readonly ages: readonly number[];
  /** Masses in the cohort's unit (default grams). */
  readonly masses: readonly number[];
  /** Properties that may act on the curve: season, diet, sex, mass at admission ... */
  readonly covariates?: Readonly<Record<string, string | number>>;
}

/**
 * Histories from series: one mass per feeding day, against age (default) or days
 * since admission. Days without that axis are left out; season and sex come
 * along as covariates where they are recorded.
 *
 * @example historiesFromSeries(study.animals, { axis: "since admission" })
 */
export function historiesFromSeries(
  animals: readonly AnimalSeries[],
  options: { readonly axis?: "age" | "since admission" } = {},
): AnimalHistory[] {
  const { axis = "age" } = options;
  return animals.map((series) => {
    const ages: number[] = [];
    const masses: number[] = [];
    for (const day of series.daily) {
      const age = axis === "age" ? day.ageD : day.sinceAdmissionD;
      if (age === null) continue;
      ages.push(age);
      masses.push(day.massG);
    }
    const { animal } = series;
    const covariates: Record<string, string | number> = {};
    if (animal.season !== null && animal.season !== undefined) covariates["season"] = animal.season;
    if (animal.sex !== null && animal.sex !== undefined) covariates["sex"] = animal.sex;
    return { animal: animal.animalId, ages, masses, covariates };
  });
}
