import { dailyGains } from "../../../src/rates/daily-gains.js";
import type { AnimalSeries, DailyMass } from "../../../src/series/animal-series.js";
import { day } from "../../rates/small-study.js";
import { drawNursery, type World, type WorldAnimal } from "./world.js";

export interface GainsHeld {
  readonly windows: number;
  /** Shares of 95 % intervals that hold the true gain, the error of each by nursery. */
  readonly held: number;
  readonly heldSe: number;
  readonly independent: number;
  /** Middle width over that of intervals that take weighings as independent. */
  readonly wider: number;
}

/**
 * How often the 95 % interval of the gain over a window holds the true one (the same
 * regression through the true masses, without gut fill and error): one window a week of
 * every animal, from the second week in care on.
 */
export function gainsInWorld(
  world: World,
  days: number,
  nurseries: number,
  seed: number,
): GainsHeld {
  const shares: number[] = [];
  const widths: number[] = [];
  let windows = 0;
  let independent = 0;
  for (let k = 0; k < nurseries; k++) {
    let held = 0;
    let n = 0;
    for (const a of drawNursery(world, { seasons: [10] }, seed + k)) {
      const series = { daily: dailyOf(a) } as unknown as AnimalSeries;
      const serial = dailyGains(series, { days });
      const plain = dailyGains(series, { days, errors: "independent", level: 0.95 });
      let next = a.arrival + 7 + days;
      a.day.forEach((d, j) => {
        const { gain } = serial[j]!.overWindow;
        if (d < next || gain.value === null) return;
        next = d + 7;
        const rows = a.age.flatMap((age, i) =>
          i <= j && age > a.age[j]! - days ? [[age, trueMass(a, i)] as const] : [],
        );
        const truth = slope(rows);
        const inside = (g: typeof gain) =>
          truth >= (g.interval?.lower ?? -Infinity) && truth <= (g.interval?.upper ?? Infinity);
        n++;
        if (inside(gain)) held++;
        const other = plain[j]!.overWindow.gain;
        if (inside(other)) independent++;
        const width = (g: typeof gain) => g.interval!.upper! - g.interval!.lower!;
        widths.push(width(gain) / width(other));
      });
    }
    windows += n;
    if (n > 0) shares.push(held / n);
  }
  const mean = shares.reduce((s, x) => s + x, 0) / shares.length;
  const square = shares.reduce((s, x) => s + (x - mean) ** 2, 0) / (shares.length - 1);
  widths.sort((x, y) => x - y);
  return {
    windows,
    held: mean,
    heldSe: Math.sqrt(square / shares.length),
    independent: independent / windows,
    wider: widths[widths.length >> 1]!,
  };
}

/** True mass at the instant of a weighing, between the days as it grew. */
function trueMass(a: WorldAnimal, i: number): number {
  const start = a.age[0]! - (a.day[0]! - a.arrival);
  const x = Math.max(0, a.age[i]! - start);
  const d = Math.min(a.trueLogMass.length - 2, Math.floor(x));
  const from = a.trueLogMass[d]!;
  return Math.exp(from + (x - d) * (a.trueLogMass[d + 1]! - from));
}

function dailyOf(a: WorldAnimal): DailyMass[] {
  return a.day.map((d, j): DailyMass => {
    const massG = Math.exp(a.logMass[j]!);
    return {
      feedingDay: "2025-01-01",
      at: a.age[j]! * day,
      massG,
      errorG: 0.008 * massG,
      ageD: a.age[j]!,
      sinceAdmissionD: d - a.arrival,
      usualCondition: true,
      nWeighings: 1,
    } as DailyMass;
  });
}

function slope(rows: readonly (readonly [number, number])[]): number {
  const mx = rows.reduce((s, r) => s + r[0], 0) / rows.length;
  const my = rows.reduce((s, r) => s + r[1], 0) / rows.length;
  return (
    rows.reduce((s, r) => s + (r[0] - mx) * (r[1] - my), 0) /
    rows.reduce((s, r) => s + (r[0] - mx) ** 2, 0)
  );
}
