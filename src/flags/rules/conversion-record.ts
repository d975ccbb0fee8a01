import { gainOverWindow } from "../../rates/gain-over-window.js";
import { keptKnownTo } from "../../rates/kept-intake.js";
import type { CivilDate } from "../../series/animal-series.js";
import { addDays } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import { isSettled, type PhaseOn } from "../animal-day/settled-days.js";

/** Gain per energy over 14 days, with its standard error from that of the gain. */
export interface Conversion {
  readonly gPer1000Kcal: number;
  readonly se: number;
}

/** Conversion of every animal at every age so far: what one of the same age is compared with. */
export interface ConversionRecord {
  /** Writes one day down; days in order. */
  readonly add: (id: string, species: string, ageD: number, value: Conversion) => void;
  /** Others of the species within 7 days of that age, by now or in earlier seasons. */
  readonly others: (
    id: string,
    species: string,
    ageD: number,
    wanted: (id: string) => boolean,
  ) => readonly number[];
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
  const bySpecies = new Map<string, Map<string, Map<number, number>>>();
  return {
    add: (id, species, ageD, value) => {
      const animals = bySpecies.get(species) ?? new Map<string, Map<number, number>>();
      bySpecies.set(species, animals);
      const own = animals.get(id) ?? new Map<number, number>();
      animals.set(id, own);
      own.set(Math.floor(ageD), value.gPer1000Kcal);
    },
    others: (id, species, ageD, wanted) => {
      const out: number[] = [];
      for (const [other, own] of bySpecies.get(species) ?? []) {
        if (other === id || !wanted(other)) continue;
        const value = nearest(own, Math.floor(ageD));
        if (value !== null) out.push(value);
      }
      return out;
    },
  };
}

/** The value at the nearest age; of two as near, the younger. */
function nearest(own: ReadonlyMap<number, number>, ageD: number): number | null {
  for (let away = 0; away <= sameAgeD; away++) {
    const value = own.get(ageD - away) ?? own.get(ageD + away);
    if (value !== undefined) return value;
  }
  return null;
}
