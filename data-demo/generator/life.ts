import { type Random, seededRandom } from "../../src/core/random.js";
import {
  costOf,
  feedTimes,
  maintenanceKcal,
  massChange,
  type Stage,
  solidShare,
  stageAt,
  wantedGain,
} from "./body.js";
import type { Character } from "./cast.js";
import { LAST_DAY } from "./cast.js";
import { civilDate, clockChanges, instantOf, type Minute } from "./clock.js";
import { diets, type Kitchen } from "./diets.js";

/** What truly happened to one animal, day by day. Tables are written from it. */
export interface Life {
  readonly character: Character;
  readonly days: readonly LifeDay[];
  readonly feeds: readonly TrueFeed[];
  readonly plans: readonly TruePlan[];
}

export interface LifeDay {
  readonly day: number;
  readonly ageD: number;
  readonly sinceAdmissionD: number;
  readonly stage: Stage;
  /** True empty, dry mass at the start and at the end of the day, g. */
  readonly fromG: number;
  readonly toG: number;
  readonly eatenKcal: number;
  readonly ill: string | null;
}

export interface TrueFeed {
  readonly at: Minute;
  readonly day: number;
  readonly dietId: string;
  readonly batchId: string;
  readonly offeredG: number;
  readonly refusedG: number;
  readonly route: "bottle" | "syringe" | "tube" | "hand" | "free";
  readonly groupId: string | null;
}

export interface TruePlan {
  readonly fromDay: number;
  readonly toDay: number | null;
  readonly dietId: string;
  readonly gPerFeed: number;
  readonly feedsPerDay: number;
}

/** The season whose otters got the second mixture, and how much more of its energy they can use. */
export const BETTER_SEASON = "2023";
export const BETTER_USABLE = 0.022;

/**
 * Lives one animal through. `betterFormula` false gives the same life without
 * the effect of the second mixture (the truth file compares the two).
 */
export function live(c: Character, seed: number, kitchen: Kitchen, betterFormula: boolean): Life {
  const root = seededRandom(seed).split(c.seed);
  const lastDay = Math.min(c.birthDay + c.leavesAge, LAST_DAY);
  const formulaId =
    c.species === "harbour seal"
      ? "seal-formula"
      : c.season === BETTER_SEASON
        ? "otter-formula-2"
        : "otter-formula-1";
  const days: LifeDay[] = [];
  const feeds: TrueFeed[] = [];
  const plans: TruePlan[] = [];
  let massG = c.admissionMassG;
  let drift = 0;
  let plan: {
    readonly review: number;
    readonly perSlotKcal: number;
    readonly slots: number;
  } | null = null;

  for (let day = c.admittedDay; day <= lastDay; day++) {
    const r = root.split(day);
    const ageD = day - c.birthDay;
    const since = day - c.admittedDay;
    const stage = stageAt(c, ageD, since);
    const illness = c.illnesses.find((i) => ageD >= i.fromAge && ageD < i.fromAge + i.days);
    const slots = feedTimes(c, ageD);
    const need = c.maintenance * maintenanceKcal(c, massG) * (stage === "fast" ? 0.75 : 1);
    const wanted = maintenanceKcal(c, massG) + costOf(c).gain * wantedGain(c, ageD, massG);
    drift = 0.6 * drift + 0.02 * r.normal();
    const hunger =
      wanted *
      Math.exp(drift) *
      startingUp(c, since) *
      fasting(c, ageD) *
      (illness?.appetite ?? 1) *
      troubled(c, "eats too little", ageD) *
      troubled(c, "fails", ageD);
    const usable =
      (c.usable +
        (betterFormula && formulaId === "otter-formula-2" ? BETTER_USABLE : 0) *
          (1 - solidShare(c, ageD))) *
      troubled(c, "converts poorly after illness", ageD);

    // The plan is reviewed every five days, and whenever the rhythm or the diet changes.
    const share = solidShare(c, ageD);
    const review =
      plan === null ||
      since % 5 === 0 ||
      plan.slots !== slots.length ||
      ageD === c.firstSolidAge ||
      ageD === c.weanedAge;
    if (review) {
      plan = {
        review: day,
        perSlotKcal: (1.16 * wanted) / c.usable / slots.length,
        slots: slots.length,
      };
      closePlans(plans, day);
      const solid = solidOn(c, day, r.split(7));
      if (share < 1)
        plans.push(
          planOf(day, formulaId, plan.perSlotKcal, Math.round((1 - share) * slots.length)),
        );
      if (share > 0)
        plans.push(
          planOf(day, solid, plan.perSlotKcal, Math.max(1, Math.round(share * slots.length))),
        );
    }

    let eatenKcal = 0;
    let times = slots.map((minute) => instantOf(day, minute + r.below(12)));
    // The night on which the clocks go back is an hour longer: a small pup gets one more feed,
    // in the hour that happens twice.
    if (day === clockChanges(Number(civilDate(day).slice(0, 4))).autumn && slots.length >= 8)
      times.push(instantOf(day, 70 + r.below(10), true));
    const admitted = instantOf(c.admittedDay, c.admittedMinute);
    times = times.filter((at) => at > admitted + 40).sort((a, b) => a - b);
    const solidSlots = Math.floor(share * times.length + r.uniform());
    const solidAt = new Set(r.shuffled(times.map((_, k) => k)).slice(0, solidSlots));
    if (ageD === c.firstSolidAge && solidAt.size === 0 && times.length > 0)
      solidAt.add(times.length - 1);
    times.forEach((at, k) => {
      const isSolid = solidAt.has(k);
      const dietId = isSolid ? solidOn(c, day, r.split(20 + k)) : formulaId;
      const batch = kitchen.batchFor(dietId, at, day);
      const perGram = batch.kcalPerG;
      const offered = Math.max(
        1,
        Math.round((plan!.perSlotKcal / diets[dietId]!.kcalPerG) * (1 + 0.01 * r.normal())),
      );
      const appetite = (hunger / c.usable / slots.length / perGram) * Math.exp(0.09 * r.normal());
      const eaten = Math.min(offered, Math.max(0, Math.round(appetite)));
      // A refusal of a gram or two is not scraped out of the bottle.
      const refused = offered - eaten <= 2 ? 0 : offered - eaten;
      eatenKcal += (offered - refused) * perGram;
      kitchen.take(batch.id, offered);
      feeds.push({
        at,
        day,
        dietId,
        batchId: batch.id,
        offeredG: offered,
        refusedG: refused,
        route: routeOf(c, ageD, since, isSolid, r),
        groupId: null,
      });
    });
    // The first day counts from admission only.
    const part = since === 0 ? (1440 - c.admittedMinute) / 1440 : 1;
    const change =
      massChange(c, eatenKcal * usable, need * part) + (since === 1 ? 0.006 * massG : 0);
    days.push({
      day,
      ageD,
      sinceAdmissionD: since,
      stage,
      fromG: massG,
      toG: massG + change,
      eatenKcal,
      ill:
        illness?.kind ??
        (c.trouble?.kind === "fails" && ageD >= c.trouble.fromAge ? "failing" : null),
    });
    massG += change;
  }
  return { character: c, days, feeds, plans };
}

/** What a newcomer takes in its first days, as part of what it will want. */
function startingUp(c: Character, since: number): number {
  const parts = c.species === "sea otter" ? [0.48, 0.62, 0.78, 0.9] : [0.12, 0.3, 0.55, 0.8];
  return parts[since] ?? 1;
}

/** Appetite of a seal in the fast: next to none, then slowly back. */
function fasting(c: Character, ageD: number): number {
  const t = ageD - c.weanedAge;
  if (c.fastDays === 0 || t < 0 || t >= c.fastDays) return 1;
  return t < c.fastDays * 0.6 ? 0.04 + 0.1 * (t / c.fastDays) : 0.1 + (t / c.fastDays - 0.6) * 0.9;
}

function troubled(c: Character, kind: string, ageD: number): number {
  const t = c.trouble;
  return t !== null && t.kind === kind && ageD >= t.fromAge && ageD < t.toAge ? t.factor : 1;
}

/** The solid of a day: herring for seals; clam first, later squid and some herring for otters. */
function solidOn(c: Character, day: number, r: Random): string {
  if (c.species === "harbour seal") return "herring";
  const age = day - c.birthDay;
  const u = r.uniform();
  if (age < 70) return u < 0.75 ? "clam" : "squid";
  return u < 0.45 ? "clam" : u < 0.85 ? "squid" : "herring";
}

function routeOf(
  c: Character,
  ageD: number,
  since: number,
  solid: boolean,
  r: Random,
): TrueFeed["route"] {
  const u = r.uniform();
  if (solid) return ageD > c.weanedAge + 25 && u < 0.4 ? "free" : "hand";
  if (c.species === "harbour seal") return since < 4 ? "tube" : u < 0.6 ? "bottle" : "tube";
  return since < 2 && u < 0.7 ? "syringe" : "bottle";
}

function planOf(fromDay: number, dietId: string, slotKcal: number, feedsPerDay: number): TruePlan {
  return {
    fromDay,
    toDay: null,
    dietId,
    gPerFeed: Math.round(slotKcal / diets[dietId]!.kcalPerG),
    feedsPerDay: Math.max(1, feedsPerDay),
  };
}

function closePlans(plans: TruePlan[], day: number): void {
  for (let i = plans.length - 1; i >= 0 && plans[i]!.toDay === null; i--)
    plans[i] = { ...plans[i]!, toDay: day };
}
