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
import { LAST_DAY, RECORDS_END } from "./cast.js";
import { civilDate, clockChanges, instantOf, type Minute } from "./clock.js";
import { diets } from "./diets.js";
import type { Kitchen } from "./kitchen.js";

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
}

export interface TruePlan {
  readonly fromDay: number;
  readonly toDay: number | null;
  readonly dietId: string;
  readonly gPerFeed: number;
  /** Minutes of the day. */
  readonly times: readonly number[];
}

/** The season from which otters get the second mixture, and how much more of its energy they can use. */
export const BETTER_SEASON = "2024";
export const BETTER_USABLE = 0.022;

/** An order begins at this minute of the day; feeds of the night before it follow the former one. */
export const ORDERS_FROM = 360;

/** What was ordered for each feed until the next review. */
interface Order {
  readonly kcalPerFeed: number;
  readonly slots: readonly { readonly minute: number; readonly dietId: string }[];
}

/** One day of one animal, as far as it is settled before the first feed. */
interface DayAhead {
  readonly day: number;
  readonly ageD: number;
  readonly since: number;
  readonly times: readonly number[];
  readonly solidShare: number;
  readonly formulaId: string;
  /** What it will take of usable energy, kcal, if offered. */
  readonly hunger: number;
  readonly random: Random;
}

/**
 * Lives one animal through. `betterFormula` false gives the same life without
 * the effect of the second mixture (the truth file compares the two).
 */
export function live(c: Character, seed: number, kitchen: Kitchen, betterFormula: boolean): Life {
  const root = seededRandom(seed).split(c.seed);
  const lastDay = Math.min(c.birthDay + c.leavesAge, LAST_DAY + 1);
  const formulaId = formulaOf(c);
  const days: LifeDay[] = [];
  const feeds: TrueFeed[] = [];
  const plans: TruePlan[] = [];
  let massG = c.admissionMassG;
  let mood = 0;
  let order: Order | null = null;
  let former: Order | null = null;

  for (let day = c.admittedDay; day <= lastDay; day++) {
    const random = root.split(day);
    const ageD = day - c.birthDay;
    const since = day - c.admittedDay;
    const stage = stageAt(c, ageD, since);
    const illness = c.illnesses.find((i) => ageD >= i.fromAge && ageD < i.fromAge + i.days);
    const times = feedTimes(c, ageD);
    const upkeep = maintenanceKcal(c, massG);
    const wanted = upkeep + costOf(c).gain * wantedGain(c, ageD, massG);
    mood = 0.6 * mood + 0.02 * random.normal();
    const hunger =
      wanted *
      Math.exp(mood) *
      startingUp(c, since) *
      fasting(c, ageD) *
      (illness?.appetite ?? 1) *
      troubled(c, "fails", ageD);
    const share = solidShare(c, ageD);
    const ahead: DayAhead = {
      day,
      ageD,
      since,
      times,
      solidShare: share,
      formulaId,
      hunger,
      random,
    };
    if (order === null || (day <= LAST_DAY && reviewDue(c, ahead, order))) {
      order = {
        kcalPerFeed: (1.15 * wanted) / c.usable / times.length,
        slots: slotsOf(c, ahead),
      };
      replan(plans, ahead, order);
    }
    const eaten = giveFeeds(c, ahead, former ?? order, order, kitchen, feeds);
    former = order;

    const better = betterFormula && formulaId === "otter-formula-2" ? BETTER_USABLE : 0;
    const usable =
      (c.usable + better * (1 - share)) * troubled(c, "converts poorly after illness", ageD);
    const need = c.maintenance * upkeep * (stage === "fast" ? 0.75 : 1);
    // The first day counts from admission only; on the second, lost water comes back.
    const part = since === 0 ? (1440 - c.admittedMinute) / 1440 : 1;
    const change = massChange(c, eaten * usable, need * part) + (since === 1 ? 0.006 * massG : 0);
    days.push({
      day,
      ageD,
      sinceAdmissionD: since,
      stage,
      fromG: massG,
      toG: massG + change,
      eatenKcal: eaten,
      ill: illness?.kind ?? (isFailing(c, ageD) ? "failing" : null),
    });
    massG += change;
  }
  return { character: c, days, feeds, plans };
}

/** The plan is reviewed every five days, and whenever the rhythm or the diet changes. */
function reviewDue(c: Character, { since, times, ageD }: DayAhead, order: Order): boolean {
  return (
    since % 5 === 0 ||
    order.slots.length !== times.length ||
    ageD === c.firstSolidAge ||
    ageD === c.weanedAge
  );
}

/** Which feed is of what: solids spread over the day, one at least once they have begun. */
function slotsOf(c: Character, { day, times, solidShare: share, formulaId, random }: DayAhead) {
  const n = times.length;
  const solids = share >= 1 ? n : share > 0 ? Math.max(1, Math.round(share * n)) : 0;
  const solid = solids === 0 ? formulaId : solidOn(c, day, random.split(7));
  return times.map((minute, k) => {
    const isSolid = Math.floor(((k + 1) * solids) / n) > Math.floor((k * solids) / n);
    return { minute, dietId: isSolid ? solid : formulaId };
  });
}

function replan(plans: TruePlan[], { day }: DayAhead, order: Order): void {
  for (let i = plans.length - 1; i >= 0 && plans[i]!.toDay === null; i--)
    plans[i] = { ...plans[i]!, toDay: day };
  for (const dietId of new Set(order.slots.map((slot) => slot.dietId)))
    plans.push({
      fromDay: day,
      toDay: null,
      dietId,
      gPerFeed: Math.round(order.kcalPerFeed / diets[dietId]!.kcalPerG),
      times: order.slots.filter((slot) => slot.dietId === dietId).map((slot) => slot.minute),
    });
}

/** Gives the feeds of a day and returns the energy eaten, kcal as labelled. */
function giveFeeds(
  c: Character,
  ahead: DayAhead,
  former: Order,
  order: Order,
  kitchen: Kitchen,
  feeds: TrueFeed[],
): number {
  const { day, ageD, since, random, hunger, formulaId } = ahead;
  const admitted = instantOf(c.admittedDay, c.admittedMinute);
  const slots = [
    ...former.slots.filter((s) => s.minute < ORDERS_FROM).map((s) => ({ ...s, of: former })),
    ...order.slots.filter((s) => s.minute >= ORDERS_FROM).map((s) => ({ ...s, of: order })),
  ].map((s) => ({ ...s, at: instantOf(day, s.minute + random.below(12)) }));
  // The night on which the clocks go back is an hour longer: a small pup gets one more feed,
  // in the hour that happens twice.
  if (day === clockChanges(Number(civilDate(day).slice(0, 4))).autumn && slots.length >= 8) {
    const at = instantOf(day, 70 + random.below(10), true);
    slots.push({ minute: 70, dietId: formulaId, of: former, at });
  }
  const given = slots.filter((s) => s.at > admitted + 40).sort((a, b) => a.at - b.at);
  let kcal = 0;
  for (const { at, minute, dietId, of } of given) {
    const batch = kitchen.batchFor(dietId, at, day);
    const ordered = of.kcalPerFeed / diets[dietId]!.kcalPerG;
    const short = minute < 240 ? troubled(c, "given less than ordered at night", ageD) : 1;
    const offeredG = Math.max(1, Math.round(ordered * short * (1 + 0.01 * random.normal())));
    const wantedG = hunger / c.usable / slots.length / batch.kcalPerG;
    const appetite = wantedG * Math.exp(0.07 * random.normal());
    const eaten = Math.min(offeredG, Math.max(0, Math.round(appetite)));
    // A refusal of a gram or two is not scraped out of the bottle.
    const refusedG = offeredG - eaten <= 2 ? 0 : offeredG - eaten;
    kcal += (offeredG - refusedG) * batch.kcalPerG;
    if (at > RECORDS_END) continue;
    kitchen.take(batch.id, offeredG);
    const route = routeOf(c, ageD, since, dietId !== formulaId, random);
    feeds.push({ at, day, dietId, batchId: batch.id, offeredG, refusedG, route });
  }
  return kcal;
}

function formulaOf(c: Character): string {
  if (c.species === "harbour seal") return "seal-formula";
  return c.season >= BETTER_SEASON ? "otter-formula-2" : "otter-formula-1";
}

function isFailing(c: Character, ageD: number): boolean {
  return c.trouble?.kind === "fails" && ageD >= c.trouble.fromAge;
}

/** What a newcomer takes in its first days, as part of what it will want. */
function startingUp(c: Character, since: number): number {
  const parts = c.species === "sea otter" ? [0.5, 0.66, 0.82, 0.93] : [0.12, 0.3, 0.55, 0.8];
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
