import type { MissingGrams } from "../../flags/missing-grams.js";
import type { HousingRow } from "../../records/study.js";
import type { CivilDate } from "../../series/animal-series.js";
import { median } from "../../stats/descriptive/median.js";
import { addDays, daysBetween } from "../../units/calendar.js";
import type { ChangeOfGain } from "../change-of-gain.js";
import type { RealOrNot } from "../real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "../study-analysis.js";
import type { SlowVerdict } from "./explanation.js";
import { type SharedFall, sharedFall } from "./shared-fall.js";
import { type Spell, spellOf } from "./spell.js";
import { ageTrend, beforeOf, shortestD, spellsAround } from "./spells-around.js";

/** What all rivals look at: one window, one set of contemporaries, each quantity once. */
export interface SlowGainerCase {
  readonly analysis: StudyAnalysis;
  readonly animal: AnimalAnalysis;
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  readonly change: ChangeOfGain;
  readonly real: RealOrNot;
  readonly missing: MissingGrams;
  readonly now: Spell;
  /** The fortnight before the window, arrival left out; null where too little was weighed. */
  readonly before: Spell | null;
  readonly others: readonly OtherAnimal[];
  readonly housing: readonly HousingRow[];
  /** How the gain of all others in care went in the same days. */
  readonly fall: SharedFall;
  readonly deficit: Deficit;
}

/** A contemporary over the same days. */
export interface OtherAnimal {
  readonly animalId: string;
  readonly inCare: boolean;
  readonly now: Spell;
  readonly before: Spell | null;
}

/** How much gain is missing, and whether that is clear. */
export interface Deficit {
  readonly slow: SlowVerdict;
  /** Expected relative gain, %/d, and what is missing of it. */
  readonly expectedPct: number | null;
  readonly missingPct: number | null;
  /** Missing over expected, 0 to more than 1 where mass is lost. */
  readonly share: number | null;
  /** By what it was found: its own earlier gain, or its contemporaries. */
  readonly by: "own earlier gain" | "contemporaries" | null;
}

export interface CaseFrom {
  readonly change: ChangeOfGain;
  readonly real: RealOrNot;
  readonly missing: MissingGrams;
  /** Table of housing, for moves. */
  readonly housing?: readonly HousingRow[];
}

/** Days of the window where no change is seen, and the longest otherwise. */
const usualD = 14;
const longestD = 21;
/** Standard errors that a shortfall of gain must reach to be called slow, and the least share of gain. */
const clearZ = 2.6;
const leastShare = 0.25;
/** Gain that differs between healthy animals of one age, as a share of it, where few serve to tell. */
const usualSpread = 0.15;
/**
 * The days that every number of the answer speaks of: from the change, where one
 * stands out, else the last fortnight; at least 7 and at most 21 days.
 */
export function windowOfCase(onDay: CivilDate, change: ChangeOfGain) {
  const stands =
    change.strength === "raised" ||
    (change.by === "own weighings" && (change.evidence ?? 0) >= (change.limit ?? 3));
  const since = stands && change.since !== null ? daysBetween(change.since, onDay) : usualD;
  const days = Math.min(longestD, Math.max(shortestD, since));
  return { from: addDays(onDay, -days), to: onDay, days };
}

/** Puts together what the rivals look at. `found.missing` must speak of {@link windowOfCase}. */
export function slowGainerCase(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: CaseFrom,
): SlowGainerCase {
  const { from, to, days } = windowOfCase(analysis.onDay, found.change);
  const byId = new Map(analysis.animals.map((a) => [a.animalId, a]));
  const spell = (a: AnimalAnalysis, f: CivilDate, t: CivilDate) =>
    spellOf(a.series, a.intake.value, f, t);
  const { now, before } = spellsAround(analysis, animal, from, to);
  const others = found.missing.contemporaries.flatMap((id): OtherAnimal[] => {
    const other = byId.get(id);
    if (other === undefined) return [];
    // One of an earlier season serves with as many of its own days at the same age.
    const shift = other.inCare ? 0 : shiftTo(animal, other, to);
    if (shift === null) return [];
    const f = addDays(from, shift);
    return [
      {
        animalId: id,
        inCare: other.inCare,
        now: spell(other, f, addDays(to, shift)),
        before: beforeOf(analysis, other, f),
      },
    ];
  });
  const housing = found.housing ?? [];
  const bare = { analysis, animal, from, to, days, ...found, now, before, others, housing };
  const fall = sharedFall(analysis, animal, from, to);
  return { ...bare, fall, deficit: deficitOf(bare) };
}

/** Days from the window to the days at which another animal had the age of this one at the end. */
function shiftTo(animal: AnimalAnalysis, other: AnimalAnalysis, to: CivilDate): number | null {
  const age = animal.last?.ageD ?? null;
  if (age === null) return null;
  const rows = other.series.daily.filter((d) => d.ageD !== null);
  if (rows.length === 0) return null;
  const nearest = rows.reduce((a, b) =>
    Math.abs(b.ageD! - age) < Math.abs(a.ageD! - age) ? b : a,
  );
  return daysBetween(to, nearest.feedingDay);
}

/** Whether gain is missing, against its own earlier gain and against its contemporaries. */
function deficitOf(c: Omit<SlowGainerCase, "deficit" | "fall">): Deficit {
  const none = { expectedPct: null, missingPct: null, share: null, by: null } as const;
  const own = c.now.gainPct;
  const se = c.now.gainSePct;
  if (own === null || se === null) return { slow: "cannot be told", ...none };
  const losing = own + 2 * se < 0;
  const tries: { by: NonNullable<Deficit["by"]>; expected: number; error: number }[] = [];
  if (c.before?.gainPct != null && c.before.gainPct > 0) {
    const expected = c.before.gainPct * (1 - ageTrend);
    // Gain wanders by itself from one fortnight to the next.
    tries.push({
      by: "own earlier gain",
      expected,
      error: Math.hypot(c.before.gainSePct ?? 0, se, 0.12 * expected),
    });
  }
  const theirs = c.others.flatMap((o) => o.now.gainPct ?? []);
  if (theirs.length >= 3) {
    const expected = median(theirs)!;
    const n = theirs.length;
    const spread = Math.max(
      usualSpread * Math.abs(expected),
      Math.sqrt(theirs.reduce((s, g) => s + (g - expected) ** 2, 0) / (n - 1)),
    );
    if (expected > 0)
      tries.push({
        by: "contemporaries",
        expected,
        error: Math.hypot(spread * Math.sqrt(1 + 1 / n), se),
      });
  }
  const clear = tries
    .map((t) => ({ ...t, z: (t.expected - own) / t.error, share: (t.expected - own) / t.expected }))
    .sort((a, b) => b.z - a.z);
  const found = clear.find((t) => t.z >= clearZ && t.share >= leastShare);
  const best = found ?? clear[0];
  if (best === undefined) return { slow: losing ? "loses" : "cannot be told", ...none };
  return {
    slow: losing ? "loses" : found !== undefined ? "slow" : "not slow",
    expectedPct: best.expected,
    missingPct: best.expected - own,
    share: best.share,
    by: best.by,
  };
}
