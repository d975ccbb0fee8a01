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
  const bySpecies = new Map<string, Map<number, OfAnAge>>();
  const ofAge = (species: string, ageD: number) => {
    const ages = bySpecies.get(species) ?? new Map<number, OfAnAge>();
    bySpecies.set(species, ages);
    const own = ages.get(ageD) ?? { byAnimal: new Map(), inOrder: [] };
    ages.set(ageD, own);
    return own;
  };
  return {
    add: (id, species, ageD, value) => {
      const at = Math.floor(ageD);
      for (let age = at - sameAgeD; age <= at + sameAgeD; age++)
        takeIfNearer(ofAge(species, age), id, { away: age - at, value: value.gPer1000Kcal });
    },
    others: (id, species, ageD, only) => {
      const { byAnimal, inOrder } = ofAge(species, Math.floor(ageD));
      if (only !== null) {
        const own = [...byAnimal].filter(([other]) => other !== id && only.has(other));
        return { animals: own.length, middle: median(own.map(([, { value }]) => value)) };
      }
      const own = byAnimal.get(id);
      return own === undefined
        ? { animals: inOrder.length, middle: middleWithout(inOrder, inOrder.length) }
        : {
            animals: inOrder.length - 1,
            middle: middleWithout(inOrder, placeOf(inOrder, own.value)),
          };
    },
  };
}

/** What an animal converted at its age nearest to one, and how much younger it was then, days. */
interface Nearest {
  readonly away: number;
  readonly value: number;
}

/** Every animal's value nearest to one age, and the values in order: a median a day of each. */
interface OfAnAge {
  readonly byAnimal: Map<string, Nearest>;
  readonly inOrder: number[];
}

/** The value at the nearest age stands; of two as near, the younger. */
function takeIfNearer({ byAnimal, inOrder }: OfAnAge, id: string, now: Nearest): void {
  const before = byAnimal.get(id);
  if (before !== undefined) {
    const nearer = Math.abs(now.away) - Math.abs(before.away) || before.away - now.away;
    if (nearer > 0) return;
    inOrder.splice(placeOf(inOrder, before.value), 1);
  }
  byAnimal.set(id, now);
  inOrder.splice(placeOf(inOrder, now.value), 0, now.value);
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
