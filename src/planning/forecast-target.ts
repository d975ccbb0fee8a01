import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { CourseAhead } from "../flags/watch/courses-ahead.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import {
  normalMixtureQuantile,
  type WeighedNormal,
} from "../stats/distributions/normal-mixture.js";
import { type FirstPassage, firstPassage } from "../stats/state-space/first-passage.js";
import { civilDayOf, daysBetween } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";

export interface TargetForecast {
  readonly animalId: string;
  readonly targetG: number;
  readonly madeOn: CivilDate;
  readonly reached: boolean;
  /** Days from `at` to the target; the upper end is null where it may not be reached within the horizon. */
  readonly inDays: Measured;
  readonly earliest: CivilDate | null;
  readonly likely: CivilDate | null;
  readonly latest: CivilDate | null;
  /** Why there is no day. */
  readonly refused: Notice | null;
  /** What was forecast two weeks before for the newest weighing; null where nothing was. */
  readonly backtest: ForecastBacktest | null;
  /** Expected mass from the instant it is made: daily for two weeks, then to the latest day or the horizon. */
  readonly path: readonly ForecastPoint[];
}

/** The mass expected on a day and its 95 % limits: of the mass itself, and of a weighing then. */
export interface ForecastPoint {
  readonly aheadD: number;
  readonly ageD: number;
  readonly massG: number;
  /** Limits of the mass itself, without gut fill and error of the scale. */
  readonly lower: number;
  readonly upper: number;
  /** Limits of a single weighing in the usual condition. */
  readonly weighedLower: number;
  readonly weighedUpper: number;
}

/** What would have been forecast earlier for a weighing that has come. */
export interface ForecastBacktest {
  readonly madeOn: CivilDate;
  /** Feeding days from that one, at whose end it would have been made, to the weighing's. */
  readonly aheadD: number;
  /** The weighing as it was expected, with the limits of a single weighing. */
  readonly forecastG: Measured;
  readonly actualG: number;
  readonly errorG: number;
  readonly inside: boolean;
}

/** Farther ahead than this no day is given. Common practice, no source. */
export const forecastHorizonD = 120;
/** How long before it is made a forecast is tried out. */
export const backtestD = 14;
/** An animal last weighed longer ago is forecast nothing. */
const freshD = 14;
const fewestWeighings = 3;
const level = 0.95;
const tail = (1 - level) / 2;

export interface ForecastTargetOptions {
  readonly settings: Pick<StudySettings, "zone">;
  readonly targetG: number;
  /** The instant at which it is made. */
  readonly at: number;
  /** Phase of the animal then; null where it is unknown. */
  readonly phase: string | null;
  /** What it was on course for at the end of an earlier feeding day; null where nothing was known. */
  readonly earlier: { readonly day: CivilDate; readonly course: CourseAhead } | null;
}

/**
 * The day on which an animal reaches a target mass, from its course as the watch sees
 * it: the first day by which the target is reached with probability 2.5, 50 and 97.5 %.
 * Refused, with the reason, in arrival and in the post-weaning fast, for an animal
 * of unknown age, with fewer than three weighings or none for two weeks, and where the
 * target is more likely than not still ahead after 120 days. A birth range over
 * 3 days is carried through at both ends.
 */
export function forecastTarget(
  series: AnimalSeries,
  course: CourseAhead | null,
  options: ForecastTargetOptions,
): TargetForecast {
  const { settings, targetG, at } = options;
  const animalId = series.animal.animalId;
  const madeOn = civilDayOf(at, settings.zone);
  const base = { animalId, targetG, madeOn, path: [], earliest: null, likely: null, latest: null };
  const refuse = (why: Notice, path: readonly ForecastPoint[] = []): TargetForecast => {
    const mass = smoothedMassAt(series, at, { upTo: at }).value;
    const reached = targetG > 0 && mass !== null && mass >= targetG;
    const inDays = reached ? measured(0, "d") : notDefined("d", why);
    const days = reached ? { earliest: madeOn, likely: madeOn, latest: madeOn } : {};
    const refused = reached ? null : why;
    return { ...base, path, ...days, reached, inDays, refused, backtest: tested };
  };
  const { birth } = series.age;
  const tested = backtest(series, options);
  const why = refusal(series, course, options);
  if (why !== null || course === null || birth === null) return refuse(why!);

  const ageNow = (at - birth) / dayMs;
  const times = [
    Math.max(ageNow, course.lastTime),
    ...Array.from({ length: forecastHorizonD }, (_, i) => ageNow + i + 1),
  ];
  const mass = course.mass(times);
  const shifts = shiftsOf(series, course, times);
  const passages = shifts.map((shift) =>
    firstPassage(
      times,
      mass.map((parts, i) => moved(parts, shift[i]!)),
      Math.log(targetG),
    ),
  );
  const middle = passages[0]!;
  const share = (p: FirstPassage, s: number) => p.timeOf(s);
  const likely = share(middle, 0.5);
  const early = passages.flatMap((p) => share(p, tail) ?? []);
  const late = passages.map((p) => share(p, 1 - tail));
  const earliest = early.length === 0 ? null : Math.min(...early);
  const latest = late.some((t) => t === null) ? null : Math.max(...late.map((t) => t!));
  const until = Math.min(
    forecastHorizonD,
    Math.max(backtestD, Math.ceil((latest ?? 1e9) - ageNow)),
  );
  const shown = times.flatMap((_, i) => (i <= until && isShown(i, until) ? [i] : []));
  const path = pathOf(course, times, shown, mass, shifts);
  if (likely === null) {
    const horizon = forecastHorizonD;
    const beyond = notice("forecast-beyond-model", "caution", {
      animal: animalId,
      target: targetG,
      horizon,
    });
    return refuse(beyond, path);
  }
  const reached = middle.reachedBy[0]! >= 0.5;
  const ahead = (t: number) => (reached ? 0 : Math.max(0, t - ageNow));
  const day = (t: number | null) =>
    t === null ? null : civilDayOf(at + ahead(t) * dayMs, settings.zone);
  return {
    ...base,
    reached,
    earliest: day(earliest),
    likely: day(likely),
    latest: reached ? madeOn : day(latest),
    inDays: measured(ahead(likely), "d", {
      n: course.weighings,
      interval: {
        lower: ahead(earliest ?? likely),
        upper: reached ? 0 : latest === null ? null : ahead(latest),
        level,
      },
    }),
    refused: null,
    path: reached ? [] : path,
    backtest: tested,
  };
}

function refusal(
  series: AnimalSeries,
  course: CourseAhead | null,
  { targetG, phase, at }: ForecastTargetOptions,
): Notice | null {
  const animal = series.animal.animalId;
  if (!(targetG > 0)) return notice("forecast-target-impossible", "problem", { target: targetG });
  if (series.age.birth === null || !series.age.usableForWeightForAge)
    return notice("forecast-no-age", "caution", { animal });
  if (phase === "arrival" || phase === "post-weaning fast")
    return notice("forecast-phase", "caution", { animal, phase });
  const n = course?.weighings ?? 0;
  if (n < fewestWeighings) return notice("forecast-few-weighings", "caution", { animal, n });
  const old = (at - series.age.birth) / dayMs - course!.lastTime;
  if (old > freshD)
    return notice("forecast-old-weighing", "caution", {
      animal,
      days: Math.floor(old),
      most: freshD,
    });
  return null;
}

/**
 * What an animal that much younger or older than written would gain more or less by each
 * time: nothing, and at both ends of a birth range over 3 days. Its own deviation
 * from its group, which makes up for part of it, is left as it is: the wider limits stand.
 */
function shiftsOf(series: AnimalSeries, course: CourseAhead, times: readonly number[]): number[][] {
  const range = series.age.rangeDays ?? 0;
  return (range > 3 ? [0, -range / 2, range / 2] : [0]).map((shift) => {
    let sum = 0;
    return times.map((time, i) => {
      const before = i === 0 ? course.lastTime : times[i - 1]!;
      const middle = 0.5 * (before + time);
      sum += (time - before) * (course.groupGain(middle + shift) - course.groupGain(middle));
      return shift === 0 ? 0 : sum;
    });
  });
}

function moved(parts: readonly WeighedNormal[], by: number): readonly WeighedNormal[] {
  return by === 0 ? parts : parts.map((p) => ({ ...p, mean: p.mean + by }));
}

/** Every day of the first two weeks, then some forty in all, the last included. */
function isShown(i: number, until: number): boolean {
  return i <= backtestD || i === until || i % Math.ceil(until / 40) === 0;
}

function pathOf(
  course: CourseAhead,
  times: readonly number[],
  shown: readonly number[],
  mass: readonly (readonly WeighedNormal[])[],
  shifts: readonly (readonly number[])[],
): ForecastPoint[] {
  const weighed = course.weighing(times.slice(0, (shown.at(-1) ?? 0) + 1));
  return shown.map((i) => {
    const time = times[i]!;
    const away = shifts.map((s) => s[i]!);
    const low = Math.min(...away);
    const high = Math.max(...away);
    const at = (parts: readonly WeighedNormal[], share: number, by: number) =>
      Math.exp(normalMixtureQuantile(parts, share) + by);
    return {
      aheadD: i,
      ageD: time,
      massG: at(mass[i]!, 0.5, 0),
      lower: at(mass[i]!, tail, low),
      upper: at(mass[i]!, 1 - tail, high),
      weighedLower: at(weighed[i]!, tail, low),
      weighedUpper: at(weighed[i]!, 1 - tail, high),
    };
  });
}

/** The newest weighing in the usual condition, against what was expected of it on an earlier day. */
function backtest(
  series: AnimalSeries,
  { at, earlier }: ForecastTargetOptions,
): ForecastBacktest | null {
  const newest = series.daily.filter((d) => d.at <= at && d.usualCondition).at(-1);
  const { birth } = series.age;
  if (newest === undefined || earlier === null || birth === null) return null;
  const { course, day } = earlier;
  const time = (newest.at - birth) / dayMs;
  const aheadD = daysBetween(day, newest.feedingDay);
  const known = course.weighings >= fewestWeighings && time - course.lastTime <= aheadD + freshD;
  if (!known || aheadD < backtestD / 2) return null;
  const [parts] = course.weighing([time]);
  const of = (share: number) => Math.exp(normalMixtureQuantile(parts!, share));
  const [lower, expected, upper] = [of(tail), of(0.5), of(1 - tail)];
  return {
    madeOn: day,
    aheadD,
    forecastG: measured(expected, "g", { interval: { lower, upper, level }, n: course.weighings }),
    actualG: newest.massG,
    errorG: expected - newest.massG,
    inside: newest.massG >= lower && newest.massG <= upper,
  };
}
