import type { NetWeighing } from "./animal-series.js";
import { conditionErrors } from "./condition.js";
import { type Expectation, expectationAt, type PoolPoint } from "./running-expectation.js";

/** A value this many spreads off is looked into. */
export const SUSPECT = 5;

/** All weighings of one animal, in order of time, and the shape found for them. */
export interface AnimalWeighings {
  readonly animalId: string;
  readonly weighings: readonly NetWeighing[];
}

export interface Pool {
  readonly points: readonly PoolPoint[];
  /** Index of each weighing among the points; -1 without a net mass. */
  readonly place: readonly number[];
  readonly z: readonly (number | null)[];
}

/** Holds every value against the others, drops the far ones from the pool, and again. */
export function trustedPool({ weighings }: AnimalWeighings): Pool {
  const place: number[] = [];
  let points: PoolPoint[] = [];
  for (const w of weighings) {
    const mass = massToJudge(w);
    place.push(mass === null ? -1 : points.length);
    if (mass !== null) points.push({ at: w.at, logG: Math.log(mass), trusted: w.netG !== null });
  }
  const zAll = () =>
    weighings.map((w, i) => {
      const p = place[i]!;
      const expected = p < 0 ? null : expectationAt(points, w.at, p);
      return expected === null ? null : zOf(points[p]!.logG, expected, w);
    });
  let z = zAll();
  for (let turn = 0; turn < 4; turn++) {
    const trusted = z.map(
      (value, i) => weighings[i]!.netG !== null && (value === null || Math.abs(value) < SUSPECT),
    );
    const next = points.slice();
    let changed = false;
    place.forEach((p, i) => {
      if (p < 0) return;
      if (next[p]!.trusted !== trusted[i]) {
        next[p] = { ...next[p]!, trusted: trusted[i]! };
        changed = true;
      }
    });
    if (!changed) break;
    points = next;
    z = zAll();
  }
  return { points, place, z };
}

/**
 * The mass held against the expectation: net, or the bare reading where the
 * tare is not below it (no net mass can be that, so it is never trusted).
 */
function massToJudge(w: NetWeighing): number | null {
  if (w.netG !== null) return w.netG;
  return w.row.tareG !== null && w.row.tareG >= w.row.massG ? w.row.massG : null;
}

/** z of a log mass, the allowance for the condition of the weighing included. */
export function zOf(logG: number, expected: Expectation, w: NetWeighing): number {
  const { coat, meal } = w.row;
  let extra = 0;
  if (coat === "damp" || coat === "wet") extra += conditionErrors[coat] ** 2;
  if (meal === "after") extra += conditionErrors["after a meal"] ** 2;
  return (logG - expected.logG) / Math.sqrt(expected.spread ** 2 + extra);
}
