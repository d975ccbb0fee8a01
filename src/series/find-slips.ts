import { notice } from "../core/notice.js";
import { civilDayOf, localInstant, numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { exchangeDayMonth } from "../units/read-time.js";
import type { NetWeighing, SuspectedSlip } from "./animal-series.js";
import { type Exchange, findExchanges } from "./find-exchanges.js";
import { expectationFrom, neighbours } from "./running-expectation.js";
import { type SlipCandidate, slipCandidates, tareKey, usualTares } from "./slip-candidates.js";
import {
  type AnimalWeighings,
  type JudgedWeighing,
  type Pool,
  trustedPool,
  zOf,
} from "./trusted-pool.js";

/** A correction explains a value if it brings it this near. */
const EXPLAINED = 2.5;

/**
 * Looks through every animal's weighings for slips of the pen. Each value is
 * held against a running expectation made without it, by the animal's own noise;
 * one that is far off and that no reading beside it confirms is doubted, and so
 * are two that fit much better exchanged. A doubted value is tried with every
 * known kind of slip, and the kind that explains it best (fit against how common
 * such a slip is) becomes a suggestion with the z before and after. Nothing is
 * changed: the value only stops standing for its day.
 *
 * Returns, by animal, the suspected slip or null of each weighing.
 */
export function findSlips(
  animals: readonly AnimalWeighings[],
  zone: string,
): ReadonlyMap<string, readonly (SuspectedSlip | null)[]> {
  const pools = new Map<string, Pool>(animals.map((a) => [a.animalId, trustedPool(a)] as const));
  const tares = usualTares(animals.flatMap((a) => a.weighings));
  const exchanges = findExchanges(animals, pools);
  const found = new Map<string, (SuspectedSlip | null)[]>();
  for (const { animalId, weighings } of animals) {
    const pool = pools.get(animalId)!;
    const exchanged = exchanges.get(animalId);
    found.set(
      animalId,
      weighings.map((weighing, i) => {
        const judged = pool.judged[i] ?? null;
        if (judged === null) return null;
        const exchange = exchanged?.get(i);
        if (exchange !== undefined) return asExchange(exchange, animalId, judged.z);
        if (!judged.doubted && weighing.netG !== null) return null;
        const usualTare = tares.get(tareKey(weighing.row)) ?? null;
        const candidates = explained(slipCandidates(weighing.row, usualTare), weighing, judged);
        if (weighing.netG !== null)
          candidates.push(
            ...otherDay(weighing, pool, i, judged, zone),
            ...wetCoat(weighing, judged),
          );
        return bestOf(candidates, judged);
      }),
    );
  }
  return found;
}

function asExchange(exchange: Exchange, animalId: string, zBefore: number): SuspectedSlip {
  const { otherAnimalId, other, zAfter } = exchange;
  const sameAnimal = otherAnimalId === animalId;
  return {
    kind: sameAnimal ? "days swapped" : "animals swapped",
    suggestedG: other.netG,
    zBefore,
    zAfter,
    otherAnimalId: sameAnimal ? null : otherAnimalId,
  };
}

/** A candidate with the z it leads to. */
interface Tried {
  readonly kind: SuspectedSlip["kind"];
  readonly suggestedG: number | null;
  readonly zAfter: number;
  readonly cost: number;
}

function explained(
  candidates: readonly SlipCandidate[],
  w: NetWeighing,
  { expected, noise }: JudgedWeighing,
): Tried[] {
  return candidates.map((c) => ({
    kind: c.kind,
    suggestedG: c.netG,
    zAfter: zOf(Math.log(c.netG), expected, noise, w),
    cost: c.cost,
  }));
}

/** The same mass on another day: day and month exchanged. */
function otherDay(
  w: NetWeighing,
  pool: Pool,
  i: number,
  { noise }: JudgedWeighing,
  zone: string,
): Tried[] {
  const day = civilDayOf(w.at, zone);
  const exchanged = exchangeDayMonth(day);
  if (exchanged === null) return [];
  const shift = (numberOfDate(exchanged) - numberOfDate(day)) * dayMs;
  const at = localInstant(toLocal(w.at, zone) + shift, zone);
  const expected = expectationFrom(neighbours(pool.points, at, pool.place[i]!), at);
  if (expected === null) return [];
  const zAfter = zOf(Math.log(w.netG!), expected, noise, w);
  return [{ kind: "wrong day", suggestedG: w.netG, zAfter, cost: 1.5 }];
}

/** Somewhat too heavy: water may be the reason (of a coat that is written as wet so much is no doubt). */
function wetCoat(w: NetWeighing, { expected }: JudgedWeighing): Tried[] {
  const over = Math.log(w.netG!) - expected.logG;
  if (over < 0.03 || over > 0.15) return [];
  return [{ kind: "wet coat", suggestedG: null, zAfter: 0, cost: 4 }];
}

/** The kind whose candidates together explain the value best, and its best candidate. */
function bestOf(candidates: readonly Tried[], judged: JudgedWeighing): SuspectedSlip | null {
  const zBefore = judged.z;
  const kinds = new Map<Tried["kind"], { total: number; best: Tried }>();
  const likelihood = (c: Tried) => Math.exp(-(c.zAfter ** 2) / 2 - c.cost);
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
      otherAnimalId: null,
    };
  if (!judged.doubted) return null;
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
