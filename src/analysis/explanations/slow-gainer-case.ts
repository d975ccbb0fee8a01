import type { MissingGrams } from "../../flags/missing-grams.js";
import { type ScaleStep, scaleSteps } from "../../flags/scale-steps.js";
import type { HousingRow } from "../../records/study.js";
import type { CivilDate } from "../../series/animal-series.js";
import { median } from "../../stats/descriptive/median.js";
import { addDays, daysBetween, feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { ChangeOfGain } from "../change-of-gain.js";
import type { RealOrNot } from "../real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "../study-analysis.js";
import type { SlowVerdict } from "./explanation.js";
import { type SharedFall, sharedFall } from "./shared-fall.js";
import type { Spell } from "./spell.js";
import { ageTrend, beforeOf, firstDayOfCourse, spellIn, spellsAround } from "./spells-around.js";
import { type StepInCourse, stepInCourse } from "./step-in-course.js";
import { windowOfCase } from "./window-of-case.js";

/** What came so many days before the window belongs to it: an illness or an event comes before the loss. */
export const leadD = 3;

/** What all rivals look at: one window, one set of contemporaries, each quantity once. */
export interface SlowGainerCase {
  readonly analysis: StudyAnalysis;
  readonly animal: AnimalAnalysis;
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  /** The window begins with the change; else it is the last so many days. */
  readonly fromChange: boolean;
  readonly change: ChangeOfGain;
  readonly real: RealOrNot;
  readonly missing: MissingGrams;
  readonly now: Spell;
  /** The fortnight before the window, arrival left out; null where too little was weighed. */
  readonly before: Spell | null;
  readonly others: readonly OtherAnimal[];
  readonly housing: readonly HousingRow[];
  /** First day of its course: arrival is left out. */
  readonly course: CivilDate;
  /** A step of everything weighed on the scale of its last weighing. */
  readonly step: ScaleStep | null;
  /** A step that may stand in its own course; `overBend` says whether a bend fits as well. */
  readonly ownStep: StepInCourse | null;
  /** How the gain of all others in care went in the same days. */
  readonly fall: SharedFall;
  /** Days of the window lie in its post-weaning fast, where loss is expected. */
  readonly fasts: boolean;
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
  /** The same against its own earlier gain alone. */
  readonly ownShare: number | null;
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

/** Days over which a step of the scale is looked for. */
const stepWithinD = 21;
/** Standard errors that a shortfall of gain must reach to be called slow, and the least share of gain. */
const clearZ = 2.4;
/** The same where others slowed too, or the watch over weighings has raised it. */
const sharedZ = 1.6;
/** Against contemporaries alone, where it gains as it always did. */
const aloneZ = 2.8;
const leastShare = 0.25;
/** Gain wanders by itself from one fortnight to the next by this share. */
const wanders = 0.12;
/** Gain that differs between healthy animals of one age, as a share of it, where few serve to tell. */
const usualSpread = 0.15;
/** Puts together what the rivals look at. `found.missing` must speak of {@link windowOfCase}. */
export function slowGainerCase(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: CaseFrom,
): SlowGainerCase {
  const { from, to, days, fromChange } = windowOfCase(analysis.onDay, found.change);
  const byId = new Map(analysis.animals.map((a) => [a.animalId, a]));
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
        now: spellIn(analysis, other, f, addDays(to, shift)),
        before: beforeOf(analysis, other, f),
      },
    ];
  });
  const housing = found.housing ?? [];
  const course = firstDayOfCourse(analysis, animal);
  const bare = {
    ...{ analysis, animal, from, to, days, fromChange, ...found },
    ...{ now, before, others, housing, course },
    step: stepOfScale(analysis, animal),
    fasts: fastsIn(analysis, animal, from),
    ownStep: ownStepOf(animal, to, course),
  };
  const fallen = { ...bare, fall: sharedFall(analysis, animal, from, to) };
  return { ...fallen, deficit: deficitOf(fallen) };
}

/** Standard errors and size from which a step of its own course is looked at. */
const stepZ = 3;
const leastStep = 0.012;

function ownStepOf(animal: AnimalAnalysis, to: CivilDate, course: CivilDate): StepInCourse | null {
  const step = stepInCourse(animal, to, course);
  if (step === null || Math.abs(step.step) < stepZ * step.se || Math.abs(step.step) < leastStep)
    return null;
  // After a step the course goes on as before; where it does not, the gain changed.
  const { after, afterSe, slope } = step;
  return after !== null && after + 1.5 * afterSe! < 0.4 * slope ? null : step;
}

/** Whether days from one on lie in its post-weaning fast, where loss is expected. */
export function fastsIn(analysis: StudyAnalysis, animal: AnimalAnalysis, from: CivilDate): boolean {
  const { zone, feedingDayStartHour } = analysis.settings;
  const begin = feedingDaySpan(from, zone, feedingDayStartHour).from;
  return animal.phases.some(
    (p) => p.phase === "post-weaning fast" && (p.to === null || p.to > begin),
  );
}

function stepOfScale(analysis: StudyAnalysis, animal: AnimalAnalysis): ScaleStep | null {
  const last = animal.series.weighings.filter((w) => w.standing === "stands for the day").at(-1);
  if (last === undefined) return null;
  const steps = scaleSteps(analysis.series, { until: last.at + dayMs, days: stepWithinD });
  return steps.find((s) => s.scale === last.row.scaleId) ?? null;
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

/**
 * Whether gain is missing: against its own earlier gain and against its
 * contemporaries, each with its error, and against both together.
 */
function deficitOf(c: Omit<SlowGainerCase, "deficit">): Deficit {
  const none = {
    ...{ expectedPct: null, missingPct: null, share: null, ownShare: null, by: null },
  } as const;
  const own = c.now.gainPct;
  const se = c.now.gainSePct;
  if (own === null || se === null || c.fasts) return { slow: "cannot be told", ...none };
  const losing = own + 2 * se < 0;
  const tries = [...fromOwn(c), ...fromOthers(c)];
  if (tries.length === 0) return { slow: losing ? "loses" : "cannot be told", ...none };
  const judged = tries.map((t) => {
    const z = (t.expected - own) / Math.hypot(t.error, se);
    return { ...t, z, share: (t.expected - own) / t.expected };
  });
  const weight = judged.reduce((sum, t) => sum + t.error ** -2, 0);
  const expected = judged.reduce((sum, t) => sum + t.expected * t.error ** -2, 0) / weight;
  const both = (expected - own) / Math.hypot(weight ** -0.5, se);
  // What several animals share, and what the watch has raised, needs less to be believed.
  const least = c.fall.shared || c.change.raised ? sharedZ : clearZ;
  const alone = judged.length === 1 ? least : aloneZ;
  const clear = judged
    .filter(
      (t) =>
        t.share >= leastShare &&
        (both >= least || t.z >= (t.by === "contemporaries" ? alone : least)),
    )
    .sort((a, b) => b.z - a.z)[0];
  const best = clear ?? judged.reduce((a, b) => (b.z > a.z ? b : a));
  return {
    slow: losing ? "loses" : clear !== undefined ? "slow" : "not slow",
    expectedPct: best.expected,
    missingPct: best.expected - own,
    share: best.share,
    ownShare: judged.find((t) => t.by === "own earlier gain")?.share ?? null,
    by: best.by,
  };
}

interface Expectation {
  readonly by: NonNullable<Deficit["by"]>;
  readonly expected: number;
  readonly error: number;
}

function fromOwn(c: Pick<SlowGainerCase, "before">): Expectation[] {
  const { before } = c;
  if (before?.gainPct == null || before.gainPct <= 0) return [];
  const expected = before.gainPct * (1 - ageTrend);
  return [
    {
      by: "own earlier gain",
      expected,
      error: Math.hypot(before.gainSePct ?? 0, wanders * expected),
    },
  ];
}

function fromOthers(c: Pick<SlowGainerCase, "others">): Expectation[] {
  const theirs = c.others.flatMap((o) => o.now.gainPct ?? []);
  const n = theirs.length;
  const expected = n < 3 ? null : median(theirs);
  if (expected === null || expected <= 0) return [];
  const spread = Math.max(
    usualSpread * expected,
    Math.sqrt(theirs.reduce((sum, g) => sum + (g - expected) ** 2, 0) / (n - 1)),
  );
  return [{ by: "contemporaries", expected, error: spread * Math.sqrt(1 + 1 / n) }];
}
