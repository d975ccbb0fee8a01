import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import type { NetWeighing } from "./animal-series.js";
import { type AnimalWeighings, type JudgedWeighing, type Pool, zOf } from "./trusted-pool.js";

/** Both values of an exchange must stand at least so far off as written ... */
const OFF = 2.3;
/** ... fit in each other's place ... */
const FITS = 3;
/** ... and be this much more likely there (log likelihood, before the number tried is counted). */
const BETTER = 6;
/** Two animals weighed at one round lie no further apart than this. */
const ROUND_MS = 12 * hourMs;
/** Two days of one animal that may have been exchanged: so many pairs are tried that each must stand out. */
const DAYS_APART = 31;
const OFF_AMONG_DAYS = 4;
/** At most so many far-off values of a day are tried, so that a file of nothing else stays readable. */
const MOST = 200;

/** Where the value of a weighing belongs, going by both. */
export interface Exchange {
  readonly otherAnimalId: string;
  readonly other: NetWeighing;
  readonly zAfter: number;
}

interface FarOff extends AnimalWeighings {
  readonly index: number;
  readonly weighing: NetWeighing;
  readonly judged: JudgedWeighing;
}

interface Pair {
  readonly a: FarOff;
  readonly b: FarOff;
  readonly better: number;
  readonly zAtA: number;
  readonly zAtB: number;
}

/**
 * Values that were exchanged between two animals of one round, or between two
 * days of one animal. Both are judged at once: each is somewhat off where it
 * stands and fits in the other's place. Together they say more than either, so
 * that exchanges of animals close in mass are seen. Each value is in one
 * exchange at most, the likeliest.
 *
 * Returns, by animal and index of the weighing, where its value belongs.
 */
export function findExchanges(
  animals: readonly AnimalWeighings[],
  pools: ReadonlyMap<string, Pool>,
): ReadonlyMap<string, ReadonlyMap<number, Exchange>> {
  const pairs: Pair[] = [];
  const rounds = new Map<number, FarOff[]>();
  for (const animal of animals) {
    const own = farOff(animal, pools.get(animal.animalId)!);
    pairs.push(...fitting(pairsWithin(own)));
    for (const each of own) {
      const day = Math.floor(each.weighing.at / dayMs);
      const list = rounds.get(day);
      if (list === undefined) rounds.set(day, [each]);
      else if (list.length < MOST) list.push(each);
    }
  }
  const weighedOn = animalsByDay(animals);
  for (const [day, list] of rounds) {
    const all = [...list, ...(rounds.get(day + 1) ?? [])];
    const tried = list.flatMap((a, i) =>
      all
        .slice(i + 1)
        .filter(
          (b) => b.animalId !== a.animalId && Math.abs(a.weighing.at - b.weighing.at) <= ROUND_MS,
        )
        .map((b): [FarOff, FarOff] => [a, b]),
    );
    // The more animals were weighed, the more pairs fit by chance.
    pairs.push(...fitting(tried, Math.log(weighedOn.get(day) ?? 1)));
  }
  return eachOnce(pairs);
}

function farOff(animal: AnimalWeighings, pool: Pool): FarOff[] {
  return animal.weighings.flatMap((weighing, index) => {
    const judged = pool.judged[index] ?? null;
    if (judged === null || weighing.netG === null || Math.abs(judged.z) < OFF) return [];
    return [{ ...animal, index, weighing, judged }];
  });
}

function pairsWithin(own: readonly FarOff[]): [FarOff, FarOff][] {
  const found: [FarOff, FarOff][] = [];
  const off = own.filter((each) => Math.abs(each.judged.z) >= OFF_AMONG_DAYS);
  off.forEach((a, i) => {
    for (const b of off.slice(i + 1, i + MOST)) {
      const days = (b.weighing.at - a.weighing.at) / dayMs;
      if (days > DAYS_APART) break;
      if (days >= 0.5) found.push([a, b]);
    }
  });
  return found;
}

function fitting(tried: readonly [FarOff, FarOff][], cost = Math.log(DAYS_APART)): Pair[] {
  const z = (value: FarOff, place: FarOff) =>
    zOf(Math.log(value.weighing.netG!), place.judged.expected, place.judged.noise, value.weighing);
  return tried.flatMap(([a, b]) => {
    const zAtA = z(b, a);
    const zAtB = z(a, b);
    if (Math.abs(zAtA) > FITS || Math.abs(zAtB) > FITS) return [];
    const better = (a.judged.z ** 2 + b.judged.z ** 2 - zAtA ** 2 - zAtB ** 2) / 2 - cost;
    return better < BETTER ? [] : [{ a, b, better, zAtA, zAtB }];
  });
}

function eachOnce(pairs: readonly Pair[]): Map<string, Map<number, Exchange>> {
  const found = new Map<string, Map<number, Exchange>>();
  const taken = new Set<NetWeighing>();
  const put = (at: FarOff, other: FarOff, zAfter: number) => {
    const own = found.get(at.animalId) ?? new Map<number, Exchange>();
    own.set(at.index, { otherAnimalId: other.animalId, other: other.weighing, zAfter });
    found.set(at.animalId, own);
  };
  for (const { a, b, zAtA, zAtB } of [...pairs].sort((x, y) => y.better - x.better)) {
    if (taken.has(a.weighing) || taken.has(b.weighing)) continue;
    taken.add(a.weighing).add(b.weighing);
    put(a, b, zAtA);
    put(b, a, zAtB);
  }
  return found;
}

/** How many animals were weighed on each day. */
function animalsByDay(animals: readonly AnimalWeighings[]): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  for (const { weighings } of animals)
    for (const day of new Set(weighings.map((w) => Math.floor(w.at / dayMs))))
      counts.set(day, (counts.get(day) ?? 0) + 1);
  return counts;
}
