import type { Character } from "./cast.js";

/**
 * The invented body: energy eaten pays for maintenance first, what is left
 * becomes mass at a fixed cost, a shortfall is taken from mass. Maintenance is
 * a multiple of 70 kg^0.75 kcal/d: in the otters falling from 5.0 at 1.8 kg to
 * 3.9 at 12 kg (the multiples that the field demand of dependent pups implies),
 * in the seals 2.4. The costs per gram are chosen, not measured.
 */
export function maintenanceKcal(c: Character, massG: number): number {
  const kg = massG / 1000;
  const multiple =
    c.species === "sea otter" ? 5 - (1.1 * Math.log(kg / 1.8)) / Math.log(12 / 1.8) : 2.4;
  return multiple * 70 * kg ** 0.75;
}

export const costOf = (c: Character) =>
  c.species === "sea otter" ? { gain: 2.2, loss: 5 } : { gain: 5, loss: 6 };

/** Mass change in a day, g, from usable energy and need. */
export function massChange(c: Character, usableKcal: number, needKcal: number): number {
  const left = usableKcal - needKcal;
  const cost = costOf(c);
  return left >= 0 ? left / cost.gain : left / cost.loss;
}

/** The gain this animal would make at this age if nothing stood in its way, g/d. */
export function wantedGain(c: Character, ageD: number, massG: number): number {
  if (c.species === "sea otter")
    return c.appetite * massG * (0.0085 + 0.0075 * Math.exp(-ageD / 70));
  return c.appetite * (ageD < c.weanedAge ? 175 : 270);
}

export type Stage = "arrival" | "milk" | "mixed" | "solids" | "fast";

export function stageAt(c: Character, ageD: number, sinceAdmissionD: number): Stage {
  if (sinceAdmissionD < 3) return "arrival";
  if (ageD < c.firstSolidAge) return "milk";
  if (ageD < c.weanedAge) return "mixed";
  if (ageD < c.weanedAge + c.fastDays) return "fast";
  return "solids";
}

/** Part of the day's energy offered as solids. */
export function solidShare(c: Character, ageD: number): number {
  if (ageD < c.firstSolidAge) return 0;
  if (ageD >= c.weanedAge) return 1;
  const t = (ageD - c.firstSolidAge) / (c.weanedAge - c.firstSolidAge);
  return 0.06 + 0.9 * t;
}

/** Clock times of the feeds, minutes of the day, by species and age. */
export function feedTimes(c: Character, ageD: number): readonly number[] {
  const every = (hours: number, from: number) =>
    Array.from({ length: Math.round(24 / hours) }, (_, k) => (from + k * hours * 60) % 1440).sort(
      (a, b) => a - b,
    );
  if (c.species === "sea otter") {
    if (ageD < 42) return every(2, 0);
    if (ageD < 90) return every(3, 0);
    if (ageD < 120) return [390, 600, 810, 1020, 1290];
    return [420, 660, 900, 1140];
  }
  if (ageD < 14) return every(3, 60);
  if (ageD < c.weanedAge) return [420, 660, 900, 1140, 1380];
  return [450, 780, 1140];
}
