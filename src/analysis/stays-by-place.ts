import type { HousingRow } from "../records/study.js";
import { median } from "../stats/descriptive/median.js";
import { dayMs } from "../units/day-ms.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Where the animals of a species lived: one place, all stays in it. */
export interface StaysInPlace {
  readonly species: string;
  readonly place: string;
  readonly animals: number;
  readonly animalDays: number;
  /** Median length of a stay that has ended, days; null where none has. */
  readonly stayD: number | null;
  /** Median age at which a stay began, days. */
  readonly fromAgeD: number | null;
  /** In the place as the records end. */
  readonly now: number;
  /** Most at once. */
  readonly most: number;
}

/**
 * Housing in numbers: each place of each species in the order in which animals
 * come to it. A stay without an end lasts until the animal left, else until the
 * records end.
 *
 * @example staysByPlace(analysis, study.tables.housing)[0].place // "isolation room"
 */
export function staysByPlace(
  analysis: Pick<StudyAnalysis, "animals" | "records">,
  housing: readonly HousingRow[],
): readonly StaysInPlace[] {
  const animals = new Map(analysis.animals.map((a) => [a.animalId, a]));
  const end = analysis.records.end ?? Number.POSITIVE_INFINITY;
  const stays = housing.flatMap((row) => {
    const animal = row.animalId === null ? undefined : animals.get(row.animalId);
    if (animal === undefined || row.from > end) return [];
    const left = animal.inCare ? end : Math.min(end, animal.series.span?.to ?? end);
    const to = Math.min(row.to ?? left, left);
    return to > row.from
      ? [{ animal, place: row.place, from: row.from, to, open: animal.inCare && to === end }]
      : [];
  });
  const keys = [...new Set(stays.map((s) => `${s.animal.species}\u0000${s.place}`))];
  return keys
    .map((key): StaysInPlace => {
      const own = stays.filter((s) => `${s.animal.species}\u0000${s.place}` === key);
      const ages = own.flatMap((s) => ageAt(s.animal, s.from) ?? []);
      return {
        species: own[0]!.animal.species,
        place: own[0]!.place,
        animals: new Set(own.map((s) => s.animal.animalId)).size,
        animalDays: own.reduce((sum, s) => sum + (s.to - s.from) / dayMs, 0),
        stayD: median(own.filter((s) => !s.open).map((s) => (s.to - s.from) / dayMs)),
        fromAgeD: median(ages),
        now: own.filter((s) => s.open).length,
        most: mostAtOnce(own),
      };
    })
    .sort(
      (a, b) =>
        (a.species < b.species ? -1 : a.species > b.species ? 1 : 0) ||
        (a.fromAgeD ?? 0) - (b.fromAgeD ?? 0),
    );
}

function ageAt({ series }: AnimalAnalysis, at: number): number | null {
  const { birth } = series.age;
  return birth === null ? null : (at - birth) / dayMs;
}

function mostAtOnce(stays: readonly { readonly from: number; readonly to: number }[]): number {
  const moves = stays
    .flatMap((s) => [
      { at: s.from, by: 1 },
      { at: s.to, by: -1 },
    ])
    .sort((a, b) => a.at - b.at || a.by - b.by);
  let now = 0;
  let most = 0;
  for (const move of moves) {
    now += move.by;
    most = Math.max(most, now);
  }
  return most;
}
