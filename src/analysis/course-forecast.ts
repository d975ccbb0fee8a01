import { conditionErrors } from "../series/condition.js";
import { madToSd } from "../stats/descriptive/mad-to-sd.js";
import { median } from "../stats/descriptive/median.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";

/** One weighed day as plain numbers. */
export interface CourseRow {
  /** Day number of the instant (instant / length of a day), not whole days. */
  readonly time: number;
  /** Age in days; null where it is not reliable. */
  readonly age: number | null;
  readonly logMass: number;
  /** Standard error of ln mass as the usual-condition mass. */
  readonly error: number;
  /** True where the value may be forecast: weighed in the usual condition. */
  readonly usual: boolean;
  /** True where the day belongs to the healthy reference of the others. */
  readonly serves: boolean;
}

export interface CourseAnimal {
  readonly id: string;
  readonly rows: readonly CourseRow[];
}

/** A straight line through the ln masses of the last days, and what is not known about it. */
export interface Course {
  /** ln mass on the line at the last weighing, and slope per day. */
  readonly level: number;
  readonly slope: number;
  readonly n: number;
  /** How much more the weighings scatter than stated (variance), at least 1. */
  readonly wide: number;
  /** Standard error of the line at `ahead` days after the last weighing. */
  readonly se: (ahead: number) => number;
}

/** Fewest weighings for a course, and its least span as a share of the window. */
const fewest = 4;
const leastSpan = 0.5;

/**
 * The course of an animal at one of its weighings: the weighted least-squares
 * line through the ln masses of the last `days` days, each weighing with its
 * stated error, the errors widened where the weighings scatter more than stated.
 * Null with fewer than 4 weighings or less than half of the window.
 *
 * @example courseAt(rows, rows.length - 1, 7)?.slope // 0.0112
 */
export function courseAt(rows: readonly CourseRow[], last: number, days: number): Course | null {
  const now = rows[last]!.time;
  let first = last;
  while (first > 0 && now - rows[first - 1]!.time < days) first--;
  const n = last - first + 1;
  if (n < fewest || now - rows[first]!.time < leastSpan * days) return null;
  let sw = 0;
  let sx = 0;
  let sy = 0;
  for (let i = first; i <= last; i++) {
    const w = rows[i]!.error ** -2;
    sw += w;
    sx += w * (rows[i]!.time - now);
    sy += w * rows[i]!.logMass;
  }
  const mx = sx / sw;
  const my = sy / sw;
  let sxx = 0;
  let sxy = 0;
  for (let i = first; i <= last; i++) {
    const w = rows[i]!.error ** -2;
    const dx = rows[i]!.time - now - mx;
    sxx += w * dx * dx;
    sxy += w * dx * (rows[i]!.logMass - my);
  }
  const slope = sxy / sxx;
  let rss = 0;
  for (let i = first; i <= last; i++) {
    const r = rows[i]!.logMass - my - slope * (rows[i]!.time - now - mx);
    rss += r * r * rows[i]!.error ** -2;
  }
  const wide = Math.max(1, rss / (n - 2));
  return {
    level: my - slope * mx,
    slope,
    n,
    wide,
    se: (ahead) => Math.sqrt(wide * (1 / sw + (ahead - mx) ** 2 / sxx)),
  };
}

/** "own course": it goes on as in its last days. "as the others": it gains as they do from today. */
export type Scenario = "own course" | "as the others";

/** How far out of its standard errors a forecast must be allowed to lie, by days ahead. */
export interface CourseMultipliers {
  /** Per day ahead (index 0 is one day): half widths in standard errors for 80 and 95 %. */
  readonly half80: readonly number[];
  readonly half95: readonly number[];
  readonly forecasts: number;
  readonly animals: number;
}

/** One replayed forecast: how many standard errors the mass found lay off. */
interface Miss {
  readonly animal: number;
  readonly ahead: number;
  readonly size: number;
}

export interface CourseReplay {
  readonly misses: Readonly<Record<Scenario, readonly Miss[]>>;
  readonly ids: readonly string[];
  readonly aheadD: number;
}

export interface CourseOptions {
  /** Length of the own course, days. Default 7. */
  readonly days?: number;
  /** How far ahead, days. Default 7. */
  readonly aheadD?: number;
  /** Others serve within this age difference, days. Default 14. */
  readonly ageWithinD?: number;
  /** Relative error of a weighing in the usual condition. Default 0.007. */
  readonly usualError?: number;
}

/**
 * Replays forecasts: at every weighed day of every animal the course is taken
 * from what was known by then, carried forward one to `aheadD` days, and set
 * against the weighing found on that day, in standard errors. "As the others"
 * takes the median slope of the others at the same age known by then, and is
 * replayed on days of the healthy reference only, because it says what an animal
 * without trouble does.
 */
export function replayCourses(
  animals: readonly CourseAnimal[],
  options: CourseOptions = {},
): CourseReplay {
  const days = options.days ?? 7;
  const aheadD = options.aheadD ?? 7;
  const reading = options.usualError ?? conditionErrors.usual;
  const courses = animals.map((a) => a.rows.map((_, i) => courseAt(a.rows, i, days)));
  const misses: Record<Scenario, Miss[]> = { "own course": [], "as the others": [] };
  animals.forEach((animal, k) => {
    const { rows } = animal;
    rows.forEach((row, i) => {
      const course = courses[k]![i];
      if (course === null || course === undefined) return;
      const others = gainsOfOthers(animals, courses, k, row, options.ageWithinD ?? 14);
      let next = i + 1;
      for (let ahead = 1; ahead <= aheadD; ahead++) {
        while (next < rows.length && rows[next]!.time < row.time + ahead - 0.5) next++;
        const found = rows[next];
        if (found === undefined) break;
        const away = found.time - row.time;
        if (away >= ahead + 0.5 || !found.usual) continue;
        const own = course.level + course.slope * away;
        misses["own course"].push({
          animal: k,
          ahead,
          size: Math.abs(found.logMass - own) / Math.hypot(course.se(away), reading),
        });
        if (others === null || !row.serves || !found.serves) continue;
        const theirs = course.level + others.centre * away;
        misses["as the others"].push({
          animal: k,
          ahead,
          size:
            Math.abs(found.logMass - theirs) /
            Math.hypot(course.se(0), others.spread * away, reading),
        });
      }
    });
  });
  return { misses, ids: animals.map((a) => a.id), aheadD };
}

/** Median and spread of the others' slopes at the same age, from what was known by then. */
function gainsOfOthers(
  animals: readonly CourseAnimal[],
  courses: readonly (readonly (Course | null)[])[],
  own: number,
  at: CourseRow,
  within: number,
): { readonly centre: number; readonly spread: number } | null {
  if (at.age === null) return null;
  const slopes: number[] = [];
  for (let k = 0; k < animals.length; k++) {
    if (k === own) continue;
    const { rows } = animals[k]!;
    let best = -1;
    let least = within;
    for (let i = 0; i < rows.length && rows[i]!.time <= at.time; i++) {
      const { age } = rows[i]!;
      if (age === null) continue;
      const away = Math.abs(age - at.age);
      if (away <= least) {
        least = away;
        best = i;
      }
    }
    const slope = best < 0 ? undefined : courses[k]![best]?.slope;
    if (slope !== undefined && animals[k]!.rows[best]!.serves) slopes.push(slope);
  }
  return slopes.length < 3 ? null : centreAndSpread(slopes);
}

/** Median and 1.4826 times the median absolute deviation. */
export function centreAndSpread(values: readonly number[]): {
  readonly centre: number;
  readonly spread: number;
} {
  const centre = median(values)!;
  return { centre, spread: madToSd * median(values.map((v) => Math.abs(v - centre)))! };
}

/** Fewest animals whose replays may set the limits. */
const fewestAnimals = 4;

/**
 * Half widths, in standard errors, that held 80 and 95 % of the replayed
 * forecasts, each animal counting once; null where fewer than four animals
 * were replayed. `without` leaves one animal out, so that its own limits rest
 * on the others.
 *
 * @example multipliersOf(replay, "own course", "P07")?.half95[6] // 2.7
 */
export function multipliersOf(
  replay: CourseReplay,
  scenario: Scenario,
  without?: string,
): CourseMultipliers | null {
  const skip = without === undefined ? -1 : replay.ids.indexOf(without);
  const used = replay.misses[scenario].filter((m) => m.animal !== skip);
  const animals = new Set(used.map((m) => m.animal));
  if (animals.size < fewestAnimals) return null;
  const at = (ahead: number, p: number) =>
    quantileByAnimal(
      used.filter((m) => m.ahead === ahead),
      p,
    );
  const aheads = Array.from({ length: replay.aheadD }, (_, i) => i + 1);
  return {
    half80: aheads.map((a) => at(a, 0.8)),
    half95: aheads.map((a) => at(a, 0.95)),
    forecasts: used.length,
    animals: animals.size,
  };
}

/** Student's t where nothing could be replayed. */
export function textbookMultipliers(df: number, aheadD: number): CourseMultipliers {
  const d = Math.max(1, df);
  return {
    half80: new Array<number>(aheadD).fill(studentTQuantile(0.9, d)),
    half95: new Array<number>(aheadD).fill(studentTQuantile(0.975, d)),
    forecasts: 0,
    animals: 0,
  };
}

export interface HeldShare {
  readonly ahead: number;
  readonly share80: number;
  readonly share95: number;
  readonly forecasts: number;
  readonly animals: number;
}

/**
 * How often the limits held on animals that did not set them: each animal's
 * replayed forecasts against limits from all the others, each animal counting
 * once. Null below five animals.
 */
export function heldOut(replay: CourseReplay, scenario: Scenario, ahead: number): HeldShare | null {
  const all = replay.misses[scenario];
  const animals = [...new Set(all.filter((m) => m.ahead === ahead).map((m) => m.animal))];
  if (animals.length <= fewestAnimals) return null;
  let in80 = 0;
  let in95 = 0;
  let forecasts = 0;
  for (const k of animals) {
    const m = multipliersOf(replay, scenario, replay.ids[k]!);
    if (m === null) return null;
    const own = all.filter((x) => x.animal === k && x.ahead === ahead);
    in80 += own.filter((x) => x.size <= m.half80[ahead - 1]!).length / own.length;
    in95 += own.filter((x) => x.size <= m.half95[ahead - 1]!).length / own.length;
    forecasts += own.length;
  }
  return {
    ahead,
    share80: in80 / animals.length,
    share95: in95 / animals.length,
    forecasts,
    animals: animals.length,
  };
}

/** Weighted quantile, every animal with the same weight in all. */
function quantileByAnimal(misses: readonly Miss[], p: number): number {
  const count = new Map<number, number>();
  for (const m of misses) count.set(m.animal, (count.get(m.animal) ?? 0) + 1);
  const sorted = misses
    .map((m) => ({ size: m.size, weight: 1 / count.get(m.animal)! }))
    .sort((a, b) => a.size - b.size);
  let sum = 0;
  for (const m of sorted) {
    sum += m.weight;
    if (sum >= p * count.size - 1e-12) return m.size;
  }
  return sorted.at(-1)?.size ?? Number.POSITIVE_INFINITY;
}
