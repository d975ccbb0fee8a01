import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { CivilDate } from "../series/animal-series.js";
import { median } from "../stats/descriptive/median.js";
import { addDays } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { contemporariesOf } from "./contemporaries-of.js";
import {
  type Course,
  type CourseMultipliers,
  centreAndSpread,
  courseAt,
  type HeldShare,
  heldOut,
  multipliersOf,
  replayCourses,
  type Scenario,
  textbookMultipliers,
} from "./course-forecast.js";
import { coursesOfStudy } from "./courses-of-study.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** A mass expected on a day, with the limits within which a weighing should fall. */
export interface ExpectedMass {
  readonly massG: number;
  readonly lower80G: number;
  readonly upper80G: number;
  readonly lower95G: number;
  readonly upper95G: number;
}

export interface ExpectedDay {
  readonly feedingDay: CivilDate;
  /** Days after the last weighing. */
  readonly aheadD: number;
  readonly ownCourse: ExpectedMass;
  /** Null where fewer than 3 contemporaries have a gain. */
  readonly asTheOthers: ExpectedMass | null;
}

export interface ExpectedWeek {
  readonly animalId: string;
  /** The last weighing, from which the days are counted. */
  readonly lastDay: CivilDate;
  readonly lastMassG: number;
  /** Mass on the line at the last weighing, g, and its error. */
  readonly level: Measured;
  /** Scatter of a single weighing in the usual condition, g. */
  readonly scatterG: number | null;
  /** Gain of each scenario at the last weighing, g/d and %/d. */
  readonly ownCourse: { readonly gain: Measured; readonly relative: Measured; readonly n: number };
  readonly asTheOthers: {
    readonly gain: Measured;
    readonly relative: Measured;
    readonly n: number;
  } | null;
  readonly days: readonly ExpectedDay[];
  /** Where the limits come from: replay on other animals, or Student's t for want of them. */
  readonly limitsFrom: {
    readonly ownCourse: "replay" | "textbook";
    readonly asTheOthers: "replay" | "textbook";
  };
  /** How often such limits held on animals that did not set them, 7 days ahead. */
  readonly held: {
    readonly ownCourse: HeldShare | null;
    readonly asTheOthers: HeldShare | null;
  };
  /** Why nothing is expected; then `days` is empty. */
  readonly refused: Notice | null;
}

export interface ExpectedWeekOptions {
  /** Length of the own course, days. Default 7, as the page's gain. */
  readonly days?: number;
  /** Days ahead. Default 7. */
  readonly aheadD?: number;
}

/**
 * What the next weighings should show if the animal goes on as in its last days,
 * and if it gains from today as its contemporaries do at its age: mass with 80 and
 * 95 % limits for a single weighing in the usual condition, day by day. The limits
 * come from a replay on the other animals of the species up to the day looked at
 * (`replayCourses`), and how often they held on animals that did not set them
 * stands beside them. Neither scenario is a prediction of what will be done for
 * the animal. Refused in arrival and in the post-weaning fast, where early gain is
 * no growth and loss is expected, and without 4 weighings over half the window.
 *
 * @example expectedWeek(analysis, animal).value.days[6]?.ownCourse.massG // 3041
 */
export function expectedWeek(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: ExpectedWeekOptions = {},
): Result<"expected-week", ExpectedWeek> {
  const days = options.days ?? 7;
  const aheadD = options.aheadD ?? 7;
  const animals = coursesOfStudy(analysis, animal.species);
  const own = animals.find((a) => a.id === animal.animalId)!;
  const { last } = animal;
  const newest = own.rows.at(-1);
  // The course must end with the last weighing, not before a fast.
  const ends = newest !== undefined && last !== null && newest.time === last.at / dayMs;
  const course = ends ? courseAt(own.rows, own.rows.length - 1, days) : null;
  const why = refusal(analysis, animal, course, days);
  if (why !== null || course === null || last === null) {
    return answer(empty(animal, last?.massG ?? 0, last?.feedingDay ?? analysis.onDay, why!));
  }
  const errors = own.rows.filter((r) => r.usual).map((r) => r.error);
  const reading = median(errors) ?? own.rows.at(-1)!.error;
  const others = gainsOfContemporaries(analysis, animal, days);
  const replay = replayCourses(animals, { days, aheadD, usualError: reading });
  const limits = (scenario: Scenario): CourseMultipliers =>
    multipliersOf(replay, scenario, animal.animalId) ?? textbookMultipliers(course.n - 2, aheadD);
  const ownLimits = limits("own course");
  const theirLimits = limits("as the others");
  const mass = Math.exp(course.level);
  let wideOwn = { w80: 0, w95: 0 };
  let wideTheirs = { w80: 0, w95: 0 };
  const rows = Array.from({ length: aheadD }, (_, i): ExpectedDay => {
    const ahead = i + 1;
    // A limit never comes nearer again further ahead.
    wideOwn = wider(wideOwn, ownLimits, i, Math.hypot(course.se(ahead), reading));
    const ownCourse = around(course.level + course.slope * ahead, wideOwn);
    let asTheOthers: ExpectedMass | null = null;
    if (others !== null) {
      const se = Math.hypot(course.se(0), others.spread * ahead, reading);
      wideTheirs = wider(wideTheirs, theirLimits, i, se);
      asTheOthers = around(course.level + others.centre * ahead, wideTheirs);
    }
    return { feedingDay: addDays(last.feedingDay, ahead), aheadD: ahead, ownCourse, asTheOthers };
  });
  const slopeSe = Math.sqrt(
    Math.max(0, (course.se(1) ** 2 + course.se(-1) ** 2) / 2 - course.se(0) ** 2),
  );
  return answer({
    animalId: animal.animalId,
    lastDay: last.feedingDay,
    lastMassG: last.massG,
    level: measured(mass, "g", { se: mass * course.se(0), n: course.n }),
    scatterG: mass * reading * Math.sqrt(course.wide),
    ownCourse: {
      gain: measured(mass * course.slope, "g/d", { se: mass * slopeSe, n: course.n }),
      relative: measured(100 * course.slope, "%/d", { se: 100 * slopeSe, n: course.n }),
      n: course.n,
    },
    asTheOthers:
      others === null
        ? null
        : {
            gain: measured(mass * others.centre, "g/d", { n: others.n }),
            relative: measured(100 * others.centre, "%/d", { n: others.n }),
            n: others.n,
          },
    days: rows,
    limitsFrom: {
      ownCourse: ownLimits.animals === 0 ? "textbook" : "replay",
      asTheOthers: theirLimits.animals === 0 ? "textbook" : "replay",
    },
    held: {
      ownCourse: heldOut(replay, "own course", aheadD),
      asTheOthers: heldOut(replay, "as the others", aheadD),
    },
    refused: null,
  });

  function answer(value: ExpectedWeek): Result<"expected-week", ExpectedWeek> {
    const notices: Notice[] = [];
    if (value.refused !== null) notices.push(value.refused);
    else if (value.limitsFrom.ownCourse === "textbook")
      notices.push(notice("week-limits-textbook", "caution", { animal: animal.animalId }));
    return {
      kind: "expected-week",
      schema: 1,
      value,
      method: {
        name: "Line through the ln masses of the last days, limits by replay on the other animals",
        options: { days, aheadD, levels: [0.8, 0.95], onDay: analysis.onDay },
        citations: [],
      },
      basis: { used: course?.n ?? 0, leftOut: [], of: "weighed days" },
      diagnostics: {},
      notices,
    };
  }
}

function refusal(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  course: Course | null,
  days: number,
): Notice | null {
  const id = { animal: animal.animalId };
  if (!animal.inCare) return notice("week-not-in-care", "info", { ...id, day: analysis.onDay });
  if (animal.phase === "arrival") return notice("week-arrival", "info", id);
  if (animal.phase === "post-weaning fast") return notice("week-fast", "info", id);
  if (course === null || animal.last === null)
    return notice("week-few-weighings", "caution", { ...id, days });
  return null;
}

/** Median and spread of the contemporaries' slopes of ln mass per day, as the page compares gain. */
function gainsOfContemporaries(analysis: StudyAnalysis, animal: AnimalAnalysis, gainDays: number) {
  const group = contemporariesOf(analysis, animal, gainDays);
  const slopes = group.members.flatMap((m) =>
    m.gain.relative.value === null ? [] : [m.gain.relative.value / 100],
  );
  return slopes.length < 3 ? null : { ...centreAndSpread(slopes), n: slopes.length };
}

function wider(before: { w80: number; w95: number }, m: CourseMultipliers, i: number, se: number) {
  const w80 = Math.max(before.w80, m.half80[i]! * se);
  return { w80, w95: Math.max(before.w95, m.half95[i]! * se, w80) };
}

function around(logMass: number, w: { readonly w80: number; readonly w95: number }): ExpectedMass {
  return {
    massG: Math.exp(logMass),
    lower80G: Math.exp(logMass - w.w80),
    upper80G: Math.exp(logMass + w.w80),
    lower95G: Math.exp(logMass - w.w95),
    upper95G: Math.exp(logMass + w.w95),
  };
}

function empty(
  animal: AnimalAnalysis,
  lastMassG: number,
  lastDay: CivilDate,
  refused: Notice,
): ExpectedWeek {
  const none: Measured = { value: null, unit: "g", why: refused };
  const gain = { gain: { ...none, unit: "g/d" }, relative: { ...none, unit: "%/d" }, n: 0 };
  return {
    animalId: animal.animalId,
    lastDay,
    lastMassG,
    level: none,
    scatterG: null,
    ownCourse: gain,
    asTheOthers: null,
    days: [],
    limitsFrom: { ownCourse: "textbook", asTheOthers: "textbook" },
    held: { ownCourse: null, asTheOthers: null },
    refused,
  };
}
