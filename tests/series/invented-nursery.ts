import { type Random, seededRandom } from "../../src/core/random.js";
import type { WeighingRow } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { start, studyOf, weighing } from "./grow-study.js";

const DAY = 86_400_000;
export const TARE = 410;

export interface Nursery {
  readonly animals: number;
  readonly days: number;
  /** Standard deviation of one weighing, share of mass. */
  readonly noise: number;
  /** Chance steps of the gain from day to day, share of mass. */
  readonly walk?: number;
  readonly perDay?: number;
  /** One in ten after a meal (+4 %), one in twelve wet (+5 %), each written down. */
  readonly conditions?: boolean;
  /** Noise as Student's t with five degrees of freedom, the same standard deviation. */
  readonly heavyTails?: boolean;
}

/** Weighings of healthy animals that grow 0.4 to 1.6 % a day, more slowly with age. */
export function nursery(seed: number, of: Nursery): WeighingRow[] {
  const r = seededRandom(seed);
  const rows: WeighingRow[] = [];
  for (let a = 0; a < of.animals; a++) {
    let log = Math.log(1500 + 6000 * r.uniform());
    const rate = 0.004 + 0.012 * r.uniform();
    const perDay = of.perDay ?? 1;
    for (let d = 0; d < of.days; d++) {
      log += d < 2 ? -0.015 : rate * Math.exp(-d / 60) + (of.walk ?? 0.003) * r.normal();
      for (let k = 0; k < perDay; k++) {
        const u = of.conditions === true ? r.uniform() : 1;
        const more =
          u < 0.1
            ? { share: 0.04, meal: "after" as const }
            : u < 0.18
              ? { share: 0.05, coat: "wet" as const }
              : { share: 0 };
        const error = of.noise * (of.heavyTails === true ? tailed(r) : r.normal());
        const { share, ...condition } = more;
        const at =
          start + d * DAY + Math.floor((k * DAY) / perDay) + Math.round(40 * r.uniform()) * 60_000;
        rows.push(
          weighing(`P${a}`, at, Math.round(Math.exp(log + error + share)) + TARE, {
            tareG: TARE,
            origin: { file: "weighings.csv", line: rows.length + 2 },
            ...condition,
          }),
        );
      }
    }
  }
  return rows;
}

function tailed(r: Random): number {
  let squares = 0;
  for (let i = 0; i < 5; i++) squares += r.normal() ** 2;
  return r.normal() / Math.sqrt(squares / 5) / Math.sqrt(5 / 3);
}

/** The rows that are doubted. */
export function doubtedRows(rows: readonly WeighingRow[]) {
  return buildSeries(studyOf(rows)).animals.flatMap((a) =>
    a.weighings.filter((w) => w.slip !== null),
  );
}

/**
 * Two animals of a nursery that differ by `difference`, exchanged on a random
 * day: whether both weighings were doubted, and named as exchanged.
 */
export function exchangeFound(seed: number, of: Nursery, difference: number) {
  const r = seededRandom(seed).split(1);
  const rows = nursery(seed, of);
  const day = r.below(of.days);
  const level = (id: string) => {
    const own = rows.filter((w) => w.animalId === id).slice(Math.max(0, day - 2), day + 3);
    return own.reduce((sum, w) => sum + w.massG - TARE, 0) / own.length;
  };
  const factor = (level("P0") * (1 + difference)) / level("P1");
  const changed = rows.map((w) =>
    w.animalId === "P1" ? { ...w, massG: Math.round((w.massG - TARE) * factor) + TARE } : w,
  );
  const first = changed.findIndex((w) => w.animalId === "P0") + day;
  const second = changed.findIndex((w) => w.animalId === "P1") + day;
  changed[first] = { ...changed[first]!, animalId: "P1" };
  changed[second] = { ...changed[second]!, animalId: "P0" };
  const doubted = doubtedRows(changed);
  const mine = [changed[first]!, changed[second]!].map((row) => doubted.find((w) => w.row === row));
  return {
    found: mine.every((w) => w !== undefined),
    named: mine.every((w) => w?.slip?.kind === "animals swapped"),
    others: doubted.length - mine.filter((w) => w !== undefined).length,
  };
}
