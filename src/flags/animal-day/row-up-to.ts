import type { CivilDate, DailyMass } from "../../series/animal-series.js";
import type { PreparedAnimal } from "./prepared-animal.js";

/**
 * The daily mass of that day, or the last one before it; null where there is none.
 *
 * @example rowUpTo(animal, "2031-05-14")?.feedingDay // "2031-05-13", where it was not weighed on the 14th
 */
export function rowUpTo(animal: PreparedAnimal, day: CivilDate): DailyMass | null {
  const index = animal.rowOn.get(day);
  if (index !== undefined) return animal.series.daily[index]!;
  const { daily } = animal.series;
  let low = 0;
  let high = daily.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (daily[middle]!.feedingDay <= day) low = middle + 1;
    else high = middle;
  }
  return daily[low - 1] ?? null;
}
