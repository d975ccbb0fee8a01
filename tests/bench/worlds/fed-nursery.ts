import type { StudySeries } from "../../../src/series/animal-series.js";
import { day, hour, smallStudySeries } from "../../rates/small-study.js";
import { stream, type WorldAnimal } from "./world.js";

/** What a gram of gain and a day of life cost in the invented nurseries. */
export const trueGrowth = 4;
export const trueUpkeep = 210;

/** First morning of the records; weighings are about eleven, before the first feed. */
const firstMorning = Date.UTC(2025, 0, 1, 11);
const feedHours = [5, 8, 11, 14, 17, 19];
const kcalPerG = 1.16;

/**
 * A nursery's records with every feed written: each day an animal eats what it
 * lives on and what its true gain of that day costs. Upkeep differs between animals
 * (6 %), and from day to day with a memory of two days (`restless`, as a share).
 * Records end after `days` days in care.
 */
export function fedNursery(
  animals: readonly WorldAnimal[],
  days: number,
  seed: number,
  restless = 0.03,
): StudySeries {
  const r = stream(seed);
  for (let i = 0; i < 8; i++) r.uniform();
  const at = (d: number) => firstMorning + d * day;
  const feeds: { at: number; animalId: string; offeredG: number }[] = [];
  const weighings: { at: number; animalId: string; massG: number }[] = [];
  const rows = animals.map((a) => {
    const own = trueUpkeep * Math.exp(0.06 * r.normal());
    let mood = restless * r.normal();
    const stay = Math.min(days, a.trueLogMass.length - 1);
    for (let d = 0; d < stay; d++) {
      const from = Math.exp(a.trueLogMass[d]!);
      const to = Math.exp(a.trueLogMass[d + 1]!);
      const size = ((from + to) / 2000) ** 0.75;
      const kcal = Math.max(0, own * (1 + mood) * size + trueGrowth * (to - from));
      for (const h of feedHours)
        feeds.push({
          at: at(a.arrival + d) + h * hour,
          animalId: a.id,
          offeredG: kcal / kcalPerG / feedHours.length,
        });
      mood = 0.6 * mood + restless * 0.8 * r.normal();
    }
    const age0 = a.age[0]! - (a.day[0]! - a.arrival);
    a.day.forEach((d, j) => {
      if (d - a.arrival > stay) return;
      const clock = a.age[j]! - age0 - (d - a.arrival);
      weighings.push({
        at: Math.round(at(d) + clock * day),
        animalId: a.id,
        massG: Math.round(Math.exp(a.logMass[j]!) / 5) * 5,
      });
    });
    const born = new Date(at(a.arrival - age0)).toISOString().slice(0, 10);
    return {
      animalId: a.id,
      name: a.id,
      birthDateEarliest: born,
      birthDateLatest: born,
      admittedAt: at(a.arrival) - hour,
      season: String(a.season),
    };
  });
  return smallStudySeries({ animals: rows, weighingRows: weighings, feeds });
}
