import { localNoon } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { AgeBasis, AnimalRow } from "./animal-series.js";

/**
 * From when an animal's age is counted, and whether weight-for-age makes sense:
 * not without a birth date, and not where the date was itself estimated from
 * mass, which would be circular.
 */
export function ageBasis(animal: AnimalRow, zone: string): AgeBasis {
  const { birthDateEarliest: first, birthDateLatest: last } = animal;
  if (first === null || last === null) {
    return {
      birthEarliest: null,
      birthLatest: null,
      birth: null,
      rangeDays: null,
      usableForWeightForAge: false,
    };
  }
  const birthEarliest = localNoon(first, zone);
  const birthLatest = localNoon(last, zone);
  return {
    birthEarliest,
    birthLatest,
    birth: (birthEarliest + birthLatest) / 2,
    rangeDays: (birthLatest - birthEarliest) / dayMs,
    usableForWeightForAge: animal.birthDateBasis !== "mass" && animal.birthDateBasis !== "unknown",
  };
}
