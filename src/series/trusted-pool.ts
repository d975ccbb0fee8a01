import { dayMs } from "../units/day-ms.js";
import type { NetWeighing } from "./animal-series.js";
import { conditionErrors } from "./condition.js";
import { type OwnNoise, ownNoise } from "./own-noise.js";
import {
  type Expectation,
  expectationFrom,
  neighbours,
  type PoolPoint,
} from "./running-expectation.js";

/** A value this many of the animal's own standard deviations off is doubted. */
const DOUBTED = 5.3;
/** An animal with few weighings is judged more widely, as with Student's t. */
const FEW = 6;
/** Neighbours that differ so much (log scale, robust) are not all of one course. */
const AT_ODDS = 0.25;
/** The next reading confirms one that it meets within this many standard deviations ... */
const CONFIRMED = 2.5;
/** ... and growth of this much a day (log scale), at most this many days away ... */
const GROWTH = 0.01;
const CONFIRMING_DAYS = 3;
/** ... where the body can change so much at all (log scale): beyond, only people can confirm. */
const POSSIBLE = 0.3;

/** All weighings of one animal, in order of time. */
export interface AnimalWeighings {
  readonly animalId: string;
  readonly weighings: readonly NetWeighing[];
}

/** Every weighing of one animal held against its others. */
export interface Pool {
  /** Null without a mass to judge, or with fewer than two others near it. */
  readonly judged: readonly (JudgedWeighing | null)[];
  readonly points: readonly PoolPoint[];
  /** Index of each weighing among the points; -1 without a mass to judge. */
  readonly place: readonly number[];
}

export interface JudgedWeighing {
  readonly expected: Expectation;
  readonly noise: OwnNoise;
  readonly z: number;
  readonly doubted: boolean;
}

/** Holds every value against the others, drops the doubted ones from the pool, and again. */
export function trustedPool({ weighings }: AnimalWeighings): Pool {
  const place: number[] = [];
  const points: PoolPoint[] = [];
  for (const w of weighings) {
    const mass = massToJudge(w);
    place.push(mass === null ? -1 : points.length);
    if (mass !== null) points.push({ at: w.at, logG: Math.log(mass), trusted: w.netG !== null });
  }
  const asked: (readonly PoolPoint[])[] = [];
  const expected: (Expectation | null)[] = [];
  let judged: (JudgedWeighing | null)[] = [];
  for (let turn = 0; turn < 5; turn++) {
    weighings.forEach((w, i) => {
      const p = place[i]!;
      if (p < 0) return;
      const near = neighbours(points, w.at, p);
      if (turn > 0 && sameOnes(near, asked[i]!)) return;
      asked[i] = near;
      expected[i] = expectationFrom(near, w.at);
    });
    judged = judgeAll(weighings, points, place, expected);
    let changed = false;
    place.forEach((p, i) => {
      if (p < 0) return;
      const trusted = weighings[i]!.netG !== null && judged[i]?.doubted !== true;
      if (points[p]!.trusted !== trusted) {
        points[p] = { ...points[p]!, trusted };
        changed = true;
      }
    });
    if (!changed) break;
  }
  return { judged, points, place };
}

function judgeAll(
  weighings: readonly NetWeighing[],
  points: readonly PoolPoint[],
  place: readonly number[],
  expected: readonly (Expectation | null)[],
): (JudgedWeighing | null)[] {
  const noise = ownNoise(
    weighings.map((w, i) => {
      const e = expected[i] ?? null;
      // A wet coat, a full stomach or neighbours at odds say nothing of how its weighings vary.
      if (e === null || w.netG === null || conditionVariance(w) > 0 || e.local > AT_ODDS)
        return null;
      return (points[place[i]!]!.logG - e.logG) / Math.hypot(1, e.leverage);
    }),
  );
  return weighings.map((w, i) => {
    const e = expected[i] ?? null;
    if (e === null) return null;
    const p = place[i]!;
    const z = zOf(points[p]!.logG, e, noise[i]!, w);
    const off = Math.abs(z) >= DOUBTED * Math.sqrt(1 + FEW / (1 + noise[i]!.n));
    const possible = Math.abs(points[p]!.logG - e.logG) <= POSSIBLE;
    return {
      expected: e,
      noise: noise[i]!,
      z,
      doubted: off && !(possible && isConfirmed(points, p, noise[i]!.sd, w)),
    };
  });
}

/**
 * Whether the reading before or after says the same: then the animal did change.
 * A row that repeats the reading within the hour may be the same row written twice.
 */
function isConfirmed(points: readonly PoolPoint[], p: number, sd: number, w: NetWeighing): boolean {
  const own = points[p]!;
  return [points[p - 1], points[p + 1]].some((other) => {
    if (other === undefined) return false;
    const days = Math.abs(other.at - own.at) / dayMs;
    if (days > CONFIRMING_DAYS || (days < 1 / 24 && other.logG === own.logG)) return false;
    const apart = Math.abs(other.logG - own.logG);
    return (
      apart <=
      CONFIRMED * Math.SQRT2 * Math.hypot(sd, Math.sqrt(conditionVariance(w))) + GROWTH * days
    );
  });
}

/**
 * The mass held against the expectation: net, or the bare reading where the
 * tare is not below it (no net mass can be that, so it is never trusted).
 */
function massToJudge(w: NetWeighing): number | null {
  if (w.netG !== null) return w.netG;
  return w.row.tareG !== null && w.row.tareG >= w.row.massG ? w.row.massG : null;
}

/** z of a log mass against the animal's own noise, with an allowance for the condition it was weighed in. */
export function zOf(logG: number, expected: Expectation, noise: OwnNoise, w: NetWeighing): number {
  const level = expected.leverage * Math.max(noise.sd, expected.local);
  const variance = noise.sd ** 2 + level ** 2 + expected.bend ** 2 + conditionVariance(w);
  return (logG - expected.logG) / Math.sqrt(variance);
}

function conditionVariance(w: NetWeighing): number {
  const { coat, meal } = w.row;
  let extra = 0;
  if (coat === "damp" || coat === "wet") extra += conditionErrors[coat] ** 2;
  if (meal === "after") extra += conditionErrors["after a meal"] ** 2;
  return extra;
}

const sameOnes = (a: readonly PoolPoint[], b: readonly PoolPoint[]) =>
  a.length === b.length && a.every((p, i) => p.at === b[i]!.at && p.logG === b[i]!.logG);
