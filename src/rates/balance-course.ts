import type { AnimalSeries, DailyMass } from "../series/animal-series.js";
import { median } from "../stats/descriptive/median.js";
import type { PricedCourse } from "../stats/state-space/priced-rate.js";
import { dayMs } from "../units/day-ms.js";
import type { BalanceCourse, BalanceWindow } from "./balance-window.js";
import type { EnergyChoice } from "./energy-of.js";
import { feedPartsReader } from "./feed-parts.js";
import { amountOf, cameUpOf } from "./kept-intake.js";
import { metabolicPower } from "./nutrition-formulas.js";
import { usableFeeds } from "./usable-feeds.js";

/**
 * Reads the course of weighings and energy kept of an animal. What was eaten is counted
 * from day to day at the animal's usual hour of weighing, not at the hour it happened to
 * be weighed: a feed given before a late weighing belongs to the day it was meant for,
 * and counted by the clock it would look like a day of great appetite. What came up is
 * taken off when it came up, in the middle of what it may have been.
 */
export function balanceCourseReader(
  series: AnimalSeries,
  energy: EnergyChoice = "stated, else general",
): (rows: readonly DailyMass[]) => BalanceCourse {
  const read = feedPartsReader(energy);
  const { feeds } = usableFeeds(series);
  const steps = [
    ...feeds.map((f) => ({
      at: f.at,
      kcal: 0.5 * (f.eatenG.low + (f.eatenG.high ?? f.eatenG.low)) * (read(f.feed).kcalPerG ?? 0),
    })),
    ...cameUpOf(series).map((line) => {
      const { low, high } = amountOf([line], (feed) => read(feed).kcalPerG ?? 0);
      return { at: line.at, kcal: -0.5 * (low + high!) };
    }),
  ].sort((a, b) => a.at - b.at);
  const at = Float64Array.from(steps, (s) => s.at);
  const taken = new Float64Array(steps.length + 1);
  steps.forEach((s, i) => {
    taken[i + 1] = taken[i]! + s.kcal;
  });
  const usual = usualHour(series.daily.map((r) => r.at));
  return (rows) => {
    const kept: { day: number; massG: number }[] = [];
    for (const r of rows) {
      const day = Math.round((r.at - usual) / dayMs);
      if (day !== kept.at(-1)?.day) kept.push({ day, massG: r.massG });
    }
    return {
      atD: kept.map((k) => k.day - kept[0]!.day),
      massG: kept.map((k) => k.massG),
      kcal: kept.map((k, j) => {
        if (j === 0) return 0;
        const from = kept[j - 1]!.day * dayMs + usual;
        const to = k.day * dayMs + usual;
        return taken[countBefore(at, to)]! - taken[countBefore(at, from)]!;
      }),
    };
  };
}

/** How many of the rising instants lie before one. */
function countBefore(at: Float64Array, instant: number): number {
  let low = 0;
  let high = at.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at[middle]! < instant) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The middle hour of the day at which instants lie, ms after midnight UTC. */
function usualHour(at: readonly number[]): number {
  if (at.length === 0) return 0;
  // Hours about the one of the first, so that a midnight among them does no harm.
  const first = at[0]! % dayMs;
  const beside = at.map((t) => ((((t - first) / dayMs + 0.5) % 1) - 0.5) * dayMs);
  return first + median(beside)!;
}

/**
 * Courses for the fit: stretches that follow each other are one. Size is the mean of the
 * seven weighings about each, base the metabolic size (kg^0.75) of the step. Null
 * where a stretch came without its weighings.
 */
export function coursesOf(
  windows: readonly BalanceWindow[],
): { readonly animalIds: readonly string[]; readonly courses: readonly PricedCourse[] } | null {
  const chains: { animalId: string; to: number; at: number[]; mass: number[]; kcal: number[] }[] =
    [];
  for (const w of windows) {
    if (w.course === undefined) return null;
    const { atD, massG, kcal } = w.course;
    const before = chains.at(-1);
    const follows = before !== undefined && before.animalId === w.animalId && before.to === w.from;
    if (!follows) {
      chains.push({
        animalId: w.animalId,
        to: w.to,
        at: [...atD],
        mass: [...massG],
        kcal: [...kcal],
      });
      continue;
    }
    const from = before.at.at(-1)!;
    before.at.push(...atD.slice(1).map((d) => from + d));
    before.mass.push(...massG.slice(1));
    before.kcal.push(...kcal.slice(1));
    before.to = w.to;
  }
  return {
    animalIds: chains.map((c) => c.animalId),
    courses: chains.map(({ at, mass, kcal }): PricedCourse => {
      const size = Float64Array.from(mass, (_, j) => {
        const part = mass.slice(Math.max(0, j - 3), j + 4);
        return part.reduce((s, m) => s + m, 0) / part.length;
      });
      return {
        time: Float64Array.from(at),
        reading: Float64Array.from(mass),
        size,
        base: size.map((s, j) => ((s + size[Math.max(0, j - 1)]!) / 2000) ** metabolicPower),
        flow: Float64Array.from(kcal, (k, j) => (j === 0 ? 0 : k / (at[j]! - at[j - 1]!))),
      };
    }),
  };
}
