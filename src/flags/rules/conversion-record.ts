import { gainOverWindow } from "../../rates/gain-over-window.js";
import { keptKnownTo } from "../../rates/kept-intake.js";
import type { CivilDate } from "../../series/animal-series.js";
import { median } from "../../stats/descriptive/median.js";
import { addDays } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import { isSettled, type PhaseOn } from "../animal-day/settled-days.js";

/** Gain per energy over 14 days, with its standard error from that of the gain. */
export interface Conversion {
  readonly gPer1000Kcal: number;
  readonly se: number;
}

/** Conversion of others of the same age, by now or in earlier seasons. */
export interface ConversionOfOthers {
  readonly animals: number;
  /** Their median; null without any. */
  readonly middle: number | null;
}

/** Conversion of every animal at every age so far: what one of the same age is compared with. */
export interface ConversionRecord {
  /** Writes one day down; days in order. */
  readonly add: (id: string, species: string, ageD: number, value: Conversion) => void;
  /** Others of the species within 7 days of that age; `only` those animals, where some are named. */
  readonly others: (
    id: string,
    species: string,
    ageD: number,
    only: ReadonlySet<string> | null,
  ) => ConversionOfOthers;
}

const days = 14;
const fewestDays = 10;
/** Ages further apart than this convert differently: what is gained falls with age. */
const sameAgeD = 7;

/**
 * Gain per 1000 kcal kept over the last 14 full days; null where fewer than 10 of them
 * have feeds of known energy, where feeds were shared, where the gain is not known,
 * or where days of arrival or of a fast are among them.
 *
 * @example conversionOn(animal, "2031-05-14", phaseOn)?.gPer1000Kcal // 61.3
 */
export function conversionOn(
  animal: PreparedAnimal,
  onDay: CivilDate,
  phaseOn: PhaseOn,
): Conversion | null {
  const index = animal.rowOn.get(onDay);
  if (index === undefined || !isSettled(phaseOn, onDay, days + 1)) return null;
  let [least, most] = [0, 0];
  let fed = 0;
  for (let back = 1; back <= days; back++) {
    const day = addDays(onDay, -back);
    const d = animal.intake.get(day);
    if (d === undefined || d.feeds === 0 || d.kcal.value === null) continue;
    if (animal.sharedOn.has(day)) return null;
    const perDay = dayMs / (d.to - d.from);
    least += d.keptKcal.low * perDay;
    most += d.keptKcal.high! * perDay;
    fed++;
  }
  // Gain comes of what was kept; where that is not known, nothing is said of conversion.
  if (fed < fewestDays || !(most > 0) || most - least > keptKnownTo * most) return null;
  const kcal = (least + most) / 2;
  const { gain } = gainOverWindow(animal.series.daily.slice(Math.max(0, index - 30), index + 1), {
    days,
    minimumWeighings: 7,
  });
  if (gain.value === null) return null;
  const per = 1000 / (kcal / fed);
  return { gPer1000Kcal: per * gain.value, se: per * (gain.se ?? 0) };
}

export function conversionRecord(): ConversionRecord {
  const bySpecies = new Map<string, OfASpecies>();
  const ofSpecies = (species: string) => {
    const known = bySpecies.get(species) ?? { animals: new Map(), ages: new Map() };
    bySpecies.set(species, known);
    return known;
  };
  return {
    add: (id, species, ageD, value) => {
      const { animals, ages } = ofSpecies(species);
      const own = animals.get(id) ?? new Map<number, number>();
      animals.set(id, own);
      const at = Math.floor(ageD);
      own.set(at, value.gPer1000Kcal);
      for (let age = at - sameAgeD; age <= at + sameAgeD; age++) {
        const known = ages.get(age);
        if (known !== undefined) takeNearest(known, id, own, age);
      }
    },
    others: (id, species, ageD, only) => {
      const { byAnimal, inOrder } = atAge(ofSpecies(species), Math.floor(ageD));
      if (only !== null) {
        const own = [...byAnimal].filter(([other]) => other !== id && only.has(other));
        return { animals: own.length, middle: median(own.map(([, value]) => value)) };
      }
      const own = byAnimal.get(id);
      const place = own === undefined ? inOrder.length : placeOf(inOrder, own);
      return {
        animals: byAnimal.size - (own === undefined ? 0 : 1),
        middle: middleWithout(inOrder, place),
      };
    },
  };
}

/** Every animal's values by age, and what was asked for: all of them at one age. */
interface OfASpecies {
  readonly animals: Map<string, Map<number, number>>;
  readonly ages: Map<number, OfAnAge>;
}

/** Every animal's value nearest to one age, and the values in order: a median a day of each. */
interface OfAnAge {
  readonly byAnimal: Map<string, number>;
  readonly inOrder: number[];
}

function atAge({ animals, ages }: OfASpecies, age: number): OfAnAge {
  const known = ages.get(age);
  if (known !== undefined) return known;
  const found: OfAnAge = { byAnimal: new Map(), inOrder: [] };
  for (const [id, own] of animals) takeNearest(found, id, own, age);
  ages.set(age, found);
  return found;
}

/** The value at the nearest age, in place of the one that was nearest before. */
function takeNearest(
  { byAnimal, inOrder }: OfAnAge,
  id: string,
  own: ReadonlyMap<number, number>,
  age: number,
): void {
  const now = nearest(own, age);
  const before = byAnimal.get(id);
  if (now === null || now === before) return;
  if (before !== undefined) inOrder.splice(placeOf(inOrder, before), 1);
  byAnimal.set(id, now);
  inOrder.splice(placeOf(inOrder, now), 0, now);
}

/** The value at the nearest age; of two as near, the younger. */
function nearest(own: ReadonlyMap<number, number>, ageD: number): number | null {
  for (let away = 0; away <= sameAgeD; away++) {
    const value = own.get(ageD - away) ?? own.get(ageD + away);
    if (value !== undefined) return value;
  }
  return null;
}

/** Where a value stands, or would stand, among values in order. */
function placeOf(inOrder: readonly number[], value: number): number {
  let low = 0;
  let high = inOrder.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (inOrder[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The median of values in order without the one at a place; all of them where it is their end. */
function middleWithout(inOrder: readonly number[], place: number): number | null {
  const n = inOrder.length - (place < inOrder.length ? 1 : 0);
  if (n === 0) return null;
  const at = (rank: number) => inOrder[rank < place ? rank : rank + 1]!;
  const middle = n >> 1;
  return n % 2 === 1 ? at(middle) : (at(middle - 1) + at(middle)) / 2;
}
