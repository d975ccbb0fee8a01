import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { type CourseAhead, coursesAhead } from "../flags/watch/courses-ahead.js";
import { watchedSpecies } from "../flags/watch/watch-study.js";
import type { CivilDate } from "../series/animal-series.js";
import {
  normalMixtureQuantile,
  type WeighedNormal,
} from "../stats/distributions/normal-mixture.js";
import { addDays, numberOfDate } from "../units/calendar.js";
import { phaseOn } from "./phase-on.js";
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
  /** Null where neither its group nor anything before it says what others gain. */
  readonly asTheOthers: ExpectedMass | null;
}

/** The mean gain of a scenario over the days ahead, g/d and %/d. */
export interface ScenarioGain {
  readonly gain: Measured;
  readonly relative: Measured;
}

export interface ExpectedWeek {
  readonly animalId: string;
  /** The last weighing, from which the days are counted. */
  readonly lastDay: CivilDate;
  readonly lastMassG: number;
  /** The mass behind the weighings at the last of them, g, and its error. */
  readonly level: Measured;
  /** Scatter of a single weighing in the usual condition, g. */
  readonly scatterG: number | null;
  readonly ownCourse: ScenarioGain;
  readonly asTheOthers: ScenarioGain | null;
  /** Weighings of its own, and animals beside and before it, on which what is expected rests. */
  readonly restsOn: {
    readonly weighings: number;
    readonly others: number;
    readonly before: number;
  };
  readonly days: readonly ExpectedDay[];
  /** Why nothing is expected; then `days` is empty. */
  readonly refused: Notice | null;
}

export interface ExpectedWeekOptions {
  /** Days ahead. Default 7. */
  readonly aheadD?: number;
}

/** Fewest weighings after the arrival phase, and fewest others, that say what to expect. */
const fewest = { weighings: 3, others: 3 };

/**
 * What the next weighings should show if the animal goes on as it has of late, and if it
 * gains from its last weighing on as any other of its group at its age: mass with 80 and
 * 95 % limits for a single weighing in the usual condition, day by day. Both come from the
 * model of the watch: species, prior files, earlier seasons, group and own weighings, and
 * the chance that its gain fell short at some moment of late (`pathAfterChange`). Neither
 * scenario is a prediction of what will be done for the animal. Refused in arrival and in
 * the post-weaning fast, where early gain is no growth and loss is expected, and with
 * fewer than 3 weighings outside of them.
 *
 * @example expectedWeek(analysis, animal).value.days[6]?.ownCourse.massG // 3041
 */
export function expectedWeek(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: ExpectedWeekOptions = {},
): Result<"expected-week", ExpectedWeek> {
  const aheadD = options.aheadD ?? 7;
  const { last } = animal;
  const course = last === null ? null : courseOf(analysis, animal, last.feedingDay);
  const refused = refusal(analysis, animal, course);
  const value =
    refused !== null || course === null || last === null
      ? empty(animal, last?.massG ?? 0, last?.feedingDay ?? analysis.onDay, refused!)
      : weekOf(animal.animalId, last, course, aheadD);
  return {
    kind: "expected-week",
    schema: 2,
    value,
    method: {
      name: "The watch's model carried on from the last weighing: mixtures of normals",
      options: { aheadD, levels: [0.8, 0.95], onDay: analysis.onDay },
      citations: ["Harvey (1989) Forecasting, Structural Time Series Models and the Kalman Filter"],
    },
    basis: { used: course?.weighings ?? 0, leftOut: [], of: "weighed days" },
    diagnostics: {},
    notices: refused === null ? [] : [refused],
  };
}

/** What the watch says of the animal at the end of the day; null where its last weighing is not read. */
function courseOf(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  lastDay: CivilDate,
): CourseAhead | null {
  const { series, settings, animals, onDay } = analysis;
  const species = watchedSpecies(series, { phaseOn: phaseOn(settings, animals) }).find(
    (s) => s.species === animal.species,
  );
  if (species === undefined) return null;
  const [courses] = coursesAhead(species, [numberOfDate(onDay)]);
  const course = courses?.get(animal.animalId) ?? null;
  // It must end with the last weighing, not before a fast.
  return course?.lastDay === numberOfDate(lastDay) ? course : null;
}

function weekOf(
  animalId: string,
  last: { readonly feedingDay: CivilDate; readonly massG: number },
  course: CourseAhead,
  aheadD: number,
): ExpectedWeek {
  const { lastTime, others, before, weighings, scatter } = course;
  const times = Array.from({ length: aheadD }, (_, i) => lastTime + i + 1);
  const [now, ...levels] = course.after("own", "level")([lastTime, ...times]);
  const level = momentsOf(now!);
  const mass = Math.exp(level.mean);
  const known = others >= fewest.others || before > 0;
  const own = course.after("own", "value")(times).map(expected);
  const theirs = known ? course.after("mean", "value")(times).map(expected) : null;
  const perDay = (to: number) => (to - level.mean) / aheadD;
  const gainOf = (relative: number, n: number): ScenarioGain => ({
    gain: measured(mass * relative, "g/d", { n }),
    relative: measured(100 * relative, "%/d", { n }),
  });
  const asAnyOther = () => {
    const end = course.after("mean", "level")(times).at(-1)!;
    return gainOf(perDay(momentsOf(end).mean), others + before);
  };
  return {
    animalId,
    lastDay: last.feedingDay,
    lastMassG: last.massG,
    level: measured(mass, "g", { se: mass * level.sd, n: weighings }),
    scatterG: mass * scatter,
    ownCourse: gainOf(perDay(momentsOf(levels.at(-1)!).mean), weighings),
    asTheOthers: known ? asAnyOther() : null,
    restsOn: { weighings, others, before },
    days: own.map((ownCourse, i) => ({
      feedingDay: addDays(last.feedingDay, i + 1),
      aheadD: i + 1,
      ownCourse,
      asTheOthers: theirs?.[i] ?? null,
    })),
    refused: null,
  };
}

function expected(parts: readonly WeighedNormal[]): ExpectedMass {
  const at = (share: number) => Math.exp(normalMixtureQuantile(parts, share));
  return {
    massG: at(0.5),
    lower80G: at(0.1),
    upper80G: at(0.9),
    lower95G: at(0.025),
    upper95G: at(0.975),
  };
}

function momentsOf(parts: readonly WeighedNormal[]): { mean: number; sd: number } {
  const mean = parts.reduce((s, p) => s + p.weight * p.mean, 0);
  const square = parts.reduce((s, p) => s + p.weight * ((p.mean - mean) ** 2 + p.sd ** 2), 0);
  return { mean, sd: Math.sqrt(square) };
}

function refusal(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  course: CourseAhead | null,
): Notice | null {
  const id = { animal: animal.animalId };
  if (!animal.inCare) return notice("week-not-in-care", "info", { ...id, day: analysis.onDay });
  if (animal.phase === "arrival") return notice("week-arrival", "info", id);
  if (animal.phase === "post-weaning fast") return notice("week-fast", "info", id);
  const fast = animal.phases.filter((p) => p.phase === "post-weaning fast").at(-1);
  const since = animal.series.daily.filter((d) => fast?.to == null || d.at >= fast.to).length;
  if (course === null || Math.min(course.weighings, since) < fewest.weighings)
    return notice("week-few-weighings", "caution", { ...id, fewest: fewest.weighings });
  return null;
}

function empty(
  animal: AnimalAnalysis,
  lastMassG: number,
  lastDay: CivilDate,
  refused: Notice,
): ExpectedWeek {
  const none: Measured = { value: null, unit: "g", why: refused };
  const gain = { gain: { ...none, unit: "g/d" }, relative: { ...none, unit: "%/d" } };
  return {
    animalId: animal.animalId,
    lastDay,
    lastMassG,
    level: none,
    scatterG: null,
    ownCourse: gain,
    asTheOthers: null,
    restsOn: { weighings: 0, others: 0, before: 0 },
    days: [],
    refused,
  };
}
