import { notice } from "../core/notice.js";
import { civilDayOf, localInstant, numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { exchangeDayMonth } from "../units/read-time.js";
import type { NetWeighing, SuspectedSlip } from "./animal-series.js";
import { expectationAt } from "./running-expectation.js";
import { type SlipCandidate, slipCandidates, tareKey, usualTares } from "./slip-candidates.js";
import { type AnimalWeighings, type Pool, SUSPECT, trustedPool, zOf } from "./trusted-pool.js";

/** A correction explains a value if it brings it this near. */
const EXPLAINED = 2.5;
/** Without an explanation more is asked before a value is doubted. */
const UNEXPLAINED = 8;
/** Two weighings that may have been exchanged lie no further apart than this. */
const ROUND_MS = 12 * 3_600_000;
/** One exchange explains two far-off values at once. */
const EXPLAINS_TWO = 3;

/**
 * Looks through every animal's weighings for slips of the pen. Each value is
 * held against a running expectation made without it; one that is far off is
 * tried with every known kind of slip, and the kind that explains it best (fit
 * against how common such a slip is) becomes a suggestion with the z before and
 * after. Nothing is changed: the value only stops standing for its day.
 *
 * Returns, by animal, the suspected slip or null of each weighing.
 */
export function findSlips(
  animals: readonly AnimalWeighings[],
  zone: string,
): ReadonlyMap<string, readonly (SuspectedSlip | null)[]> {
  const pools = new Map<string, Pool>(animals.map((a) => [a.animalId, trustedPool(a)] as const));
  const tares = usualTares(animals.flatMap((a) => a.weighings));
  const rounds = suspectsByDay(animals, pools);
  const found = new Map<string, (SuspectedSlip | null)[]>();
  for (const animal of animals) {
    const pool = pools.get(animal.animalId)!;
    found.set(
      animal.animalId,
      animal.weighings.map((weighing, i) => {
        const z = pool.z[i];
        if (z === undefined || z === null) return null;
        if (Math.abs(z) < SUSPECT && weighing.netG !== null) return null;
        const candidates: Judged[] = [
          ...judge(
            slipCandidates(weighing.row, tares.get(tareKey(weighing.row)) ?? null),
            weighing,
            pool,
            i,
          ),
          ...(weighing.netG === null
            ? []
            : [
                ...otherDay(weighing, pool, i, zone),
                ...otherAnimal(animal.animalId, weighing, pool, i, rounds, pools),
                ...wetCoat(weighing, pool, i),
              ]),
        ];
        return bestOf(candidates, z);
      }),
    );
  }
  return found;
}

/** A candidate with the z it leads to. */
interface Judged {
  readonly kind: SuspectedSlip["kind"];
  readonly suggestedG: number | null;
  readonly zAfter: number;
  readonly cost: number;
  readonly otherAnimalId: string | null;
}

function judge(
  candidates: readonly SlipCandidate[],
  w: NetWeighing,
  pool: Pool,
  i: number,
): Judged[] {
  const expected = expectationAt(pool.points, w.at, pool.place[i]!);
  if (expected === null) return [];
  return candidates.map((c) => ({
    kind: c.kind,
    suggestedG: c.netG,
    zAfter: zOf(Math.log(c.netG), expected, w),
    cost: c.cost,
    otherAnimalId: null,
  }));
}

/** The same mass on another day: day and month exchanged, or one day or month off. */
function otherDay(w: NetWeighing, pool: Pool, i: number, zone: string): Judged[] {
  const day = civilDayOf(w.at, zone);
  const exchanged = exchangeDayMonth(day);
  if (exchanged === null) return [];
  const shift = (numberOfDate(exchanged) - numberOfDate(day)) * dayMs;
  const at = localInstant(toLocal(w.at, zone) + shift, zone);
  const expected = expectationAt(pool.points, at, pool.place[i]!);
  if (expected === null) return [];
  return [
    {
      kind: "wrong day",
      suggestedG: w.netG,
      zAfter: zOf(Math.log(w.netG!), expected, w),
      cost: 1.5,
      otherAnimalId: null,
    },
  ];
}

interface InRound {
  readonly animalId: string;
  readonly weighing: NetWeighing;
  readonly index: number;
}

/** Far-off values by day; at most so many that a file of nothing else stays readable. */
function suspectsByDay(
  animals: readonly AnimalWeighings[],
  pools: ReadonlyMap<string, Pool>,
): ReadonlyMap<number, InRound[]> {
  const MOST = 500;
  const days = new Map<number, InRound[]>();
  for (const { animalId, weighings } of animals)
    weighings.forEach((weighing, index) => {
      const z = pools.get(animalId)?.z[index];
      if (weighing.netG === null || z === null || z === undefined || Math.abs(z) < SUSPECT) return;
      const day = Math.floor(weighing.at / dayMs);
      const list = days.get(day);
      const entry = { animalId, weighing, index };
      if (list === undefined) days.set(day, [entry]);
      else if (list.length < MOST) list.push(entry);
    });
  return days;
}

/** Exchanged with another animal of the same round: each must fit in the other's place. */
function otherAnimal(
  animalId: string,
  w: NetWeighing,
  pool: Pool,
  i: number,
  rounds: ReadonlyMap<number, InRound[]>,
  pools: ReadonlyMap<string, Pool>,
): Judged[] {
  const mine = expectationAt(pool.points, w.at, pool.place[i]!);
  if (mine === null) return [];
  const day = Math.floor(w.at / dayMs);
  const found: Judged[] = [];
  for (const near of [day - 1, day, day + 1]) {
    for (const other of rounds.get(near) ?? []) {
      if (other.animalId === animalId || Math.abs(other.weighing.at - w.at) > ROUND_MS) continue;
      const theirs = pools.get(other.animalId)!;
      const expected = expectationAt(theirs.points, other.weighing.at, theirs.place[other.index]!);
      if (expected === null) continue;
      const here = zOf(Math.log(other.weighing.netG!), mine, w);
      const there = zOf(Math.log(w.netG!), expected, other.weighing);
      found.push({
        kind: "animals swapped",
        suggestedG: other.weighing.netG,
        zAfter: Math.abs(here) > Math.abs(there) ? here : there,
        cost: 0.5 - EXPLAINS_TWO + 0.3 * hoursApart(other.weighing, w),
        otherAnimalId: other.animalId,
      });
    }
  }
  return found;
}

const hoursApart = (a: NetWeighing, b: NetWeighing) => Math.abs(a.at - b.at) / 3_600_000;

/** Somewhat too heavy with a coat not written down as wet: water may be the reason. */
function wetCoat(w: NetWeighing, pool: Pool, i: number): Judged[] {
  const expected = expectationAt(pool.points, w.at, pool.place[i]!);
  if (expected === null || w.row.coat === "wet") return [];
  const over = Math.log(w.netG!) - expected.logG;
  if (over < 0.03 || over > 0.15) return [];
  return [{ kind: "wet coat", suggestedG: null, zAfter: 0, cost: 4, otherAnimalId: null }];
}

/** The kind whose candidates together explain the value best, and its best candidate. */
function bestOf(candidates: readonly Judged[], zBefore: number): SuspectedSlip | null {
  const kinds = new Map<Judged["kind"], { total: number; best: Judged }>();
  const likelihood = (c: Judged) => Math.exp(-(c.zAfter ** 2) / 2 - c.cost);
  for (const c of candidates) {
    if (Math.abs(c.zAfter) > EXPLAINED) continue;
    const sum = kinds.get(c.kind);
    if (sum === undefined) kinds.set(c.kind, { total: likelihood(c), best: c });
    else {
      sum.total += likelihood(c);
      if (likelihood(c) > likelihood(sum.best)) sum.best = c;
    }
  }
  const ranked = [...kinds.values()].sort((a, b) => b.total - a.total);
  const best = ranked[0]?.best;
  if (best !== undefined)
    return {
      kind: best.kind,
      suggestedG: best.suggestedG,
      zBefore,
      zAfter: best.suggestedG === null ? null : best.zAfter,
      otherAnimalId: best.otherAnimalId,
    };
  if (Math.abs(zBefore) < UNEXPLAINED) return null;
  return { kind: "unexplained", suggestedG: null, zBefore, zAfter: null, otherAnimalId: null };
}

/** The sentence that goes with a suspected slip. */
export function slipNotice(slip: SuspectedSlip, netG: number) {
  return notice("series-suspected-slip", "caution", {
    kind: slip.kind,
    netG,
    suggestedG: slip.suggestedG,
    zBefore: slip.zBefore,
    zAfter: slip.zAfter,
    other: slip.otherAnimalId,
  });
}
