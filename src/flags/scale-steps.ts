import type {
  AnimalSeries,
  CivilDate,
  Instant,
  ScaleCheckRow,
  StudySeries,
} from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { isFailedCheck } from "./rules/known-weight-check.js";

/** A step in the readings of everything weighed on one scale. It changes an explanation, never a level. */
export interface ScaleStep {
  readonly scale: string;
  /** First feeding day after the step, and the days between which it lies. */
  readonly day: CivilDate;
  readonly earliest: CivilDate;
  readonly latest: CivilDate;
  readonly firstAt: Instant;
  /** Share by which readings went up (down: negative), %, and its standard error. */
  readonly pct: number;
  readonly sePct: number;
  /** Animals that stepped with it, and all that were weighed on the scale on both sides. */
  readonly animals: readonly string[];
  readonly judged: number;
  /** The known-weight checks after it and within its reach: none, or what the last one said. */
  readonly check: "none" | "failed" | "passed";
  readonly checkAt: Instant | null;
}

/** One weighed day of an animal: days, ln g, standard error of ln g. */
export interface CoursePoint {
  readonly time: number;
  readonly log: number;
  readonly error: number;
}

/** Days to either side of a step that are fitted, and the fewest weighings there. */
const sideD = 7;
const fewestBefore = 4;
/** Gain may bend by so much a day in earnest, %: a short look beyond a step allows for it. */
const bend = 0.005;
/** Weighings of neighbouring days err alike: their error is widened by this. */
const alike = 1.3;
/** Standard errors, least size and least share of the animals from which a step is said to be there. */
const leastZ = 5;
const leastStep = 0.012;
const leastShare = 0.8;
/** A check speaks for this many days before and after itself. */
export const checkSpeaksD = 3;

/**
 * The step in one course at an instant: two straight lines of one slope, weighed
 * over a week to either side. A bend there moves it by nothing where both sides are
 * full, and is allowed for where the later one is short. Null with fewer than 4
 * weighings before, or none after.
 *
 * @example stepAt(points, 20614.2)?.step // -0.051
 */
export function stepAt(
  points: readonly CoursePoint[],
  at: number,
): { readonly step: number; readonly se: number; readonly after: number } | null {
  const before = points.filter((p) => p.time < at && p.time >= at - sideD - 0.5);
  const after = points.filter((p) => p.time >= at && p.time < at + sideD - 0.5);
  if (before.length < fewestBefore || after.length === 0) return null;
  // Weighted least squares of level, slope and step.
  const rows = [...before, ...after].map((p) => ({
    x: p.time - at,
    s: p.time >= at ? 1 : 0,
    y: p.log,
    w: 1 / (alike * Math.max(p.error, 0.007)) ** 2,
  }));
  const sum = (f: (r: (typeof rows)[number]) => number) =>
    rows.reduce((total, r) => total + r.w * f(r), 0);
  const [w, x, s] = [sum(() => 1), sum((r) => r.x), sum((r) => r.s)];
  const y = sum((r) => r.y);
  // Centred: two unknowns remain.
  const xx = sum((r) => r.x * r.x) - (x * x) / w;
  const ss = sum((r) => r.s * r.s) - (s * s) / w;
  const xs = sum((r) => r.x * r.s) - (x * s) / w;
  const xy = sum((r) => r.x * r.y) - (x * y) / w;
  const sy = sum((r) => r.s * r.y) - (s * y) / w;
  const det = xx * ss - xs * xs;
  if (!(det > 1e-9 * xx * ss)) return null;
  const step = (xx * sy - xs * xy) / det;
  // The side that is shorter leaves a bend in the step: half its length of bending.
  const short = Math.max(0, before.length - after.length) / 2;
  return { step, se: Math.hypot(Math.sqrt(xx / det), bend * short), after: after.length };
}

/**
 * Looks on every day of the last weeks, whether or not anything was written, for a
 * step in the readings of everything weighed on one scale: the steps of its animals
 * averaged by their errors, on the day that fits best, with the days that fit nearly
 * as well. At least 3 animals, 4 in 5 of them the same way, 5 standard errors and
 * 1.2 %. The latest such step of each scale is given.
 *
 * @example scaleSteps(study, { until })[0]?.pct // -5.1
 */
export function scaleSteps(
  study: StudySeries,
  options: { readonly until: Instant; readonly days?: number },
): readonly ScaleStep[] {
  const { until } = options;
  const from = until - (options.days ?? 28) * dayMs;
  const scales = new Map<string, Map<string, OnScale>>();
  for (const animal of study.animals) {
    for (const [scale, points] of pointsByScale(animal, from - (sideD + 1) * dayMs, until)) {
      const list = scales.get(scale) ?? new Map<string, OnScale>();
      list.set(animal.animal.animalId, points);
      scales.set(scale, list);
    }
  }
  return [...scales].flatMap(([scale, animals]) => {
    const found = stepOf(animals, from, until);
    if (found === null) return [];
    const { check, checkAt } = checkedAfter(study.scaleChecks, scale, found, until);
    return [{ scale, ...found, check, checkAt }];
  });
}

interface OnScale {
  readonly points: readonly CoursePoint[];
  readonly days: readonly CivilDate[];
}

function pointsByScale(animal: AnimalSeries, from: number, until: number): Map<string, OnScale> {
  const rows = new Map(
    animal.weighings.filter((w) => w.standing === "stands for the day").map((w) => [w.at, w.row]),
  );
  const out = new Map<string, { points: CoursePoint[]; days: CivilDate[] }>();
  for (const d of animal.daily) {
    const scale = rows.get(d.at)?.scaleId ?? null;
    if (d.at < from || d.at >= until || scale === null || d.massG <= 0) continue;
    const entry = out.get(scale) ?? { points: [], days: [] };
    entry.points.push({
      time: d.at / dayMs,
      log: Math.log(d.massG),
      error: d.errorG / d.massG,
    });
    entry.days.push(d.feedingDay);
    out.set(scale, entry);
  }
  return out;
}

type Found = Omit<ScaleStep, "scale" | "check" | "checkAt">;

function stepOf(animals: ReadonlyMap<string, OnScale>, from: number, until: number): Found | null {
  if (animals.size < 3) return null;
  const days = [...new Set([...animals.values()].flatMap((a) => a.days))].sort();
  const tried = days.flatMap((day) => {
    // Between the weighings of the day before and of this day.
    const firsts = [...animals.values()].flatMap((a) => {
      const i = a.days.indexOf(day);
      return i < 0 ? [] : [a.points[i]!.time];
    });
    const at = Math.min(...firsts) - 1e-6;
    if (at * dayMs < from || at * dayMs >= until) return [];
    const each = [...animals].flatMap(([id, a]) => {
      const s = stepAt(a.points, at);
      return s === null ? [] : [{ id, ...s }];
    });
    if (each.length < 3) return [];
    const weight = each.reduce((sum, e) => sum + e.se ** -2, 0);
    const step = each.reduce((sum, e) => sum + e.step * e.se ** -2, 0) / weight;
    const along = each.filter((e) => e.step * step > 0);
    // Animals differ by more than their errors where it is no step of the scale.
    const spread = each.reduce((sum, e) => sum + ((e.step - step) / e.se) ** 2, 0);
    const se = Math.sqrt(Math.max(1, spread / (each.length - 1)) / weight);
    return [{ day, at, step, se, along, judged: each.length, gain: (step / se) ** 2 }];
  });
  const stands = tried.filter(
    (t) =>
      Math.abs(t.step) / t.se >= leastZ &&
      Math.abs(t.step) >= leastStep &&
      t.along.length >= leastShare * t.judged,
  );
  if (stands.length === 0) return null;
  const best = stands.reduce((a, b) => (b.gain > a.gain ? b : a));
  const near = tried.filter((t) => best.gain - t.gain < 4 && t.step * best.step > 0);
  return {
    day: best.day,
    earliest: near[0]!.day,
    latest: near.at(-1)!.day,
    firstAt: Math.round(best.at * dayMs),
    pct: 100 * Math.expm1(best.step),
    sePct: 100 * best.se,
    animals: best.along.map((e) => e.id),
    judged: best.judged,
  };
}

/** What the first known-weight check after the step said, as far as it speaks for those days. */
function checkedAfter(
  checks: readonly ScaleCheckRow[],
  scale: string,
  step: Found,
  until: number,
): Pick<ScaleStep, "check" | "checkAt"> {
  const after = checks.filter(
    (c) => c.scaleId === scale && c.at >= step.firstAt - dayMs / 8 && c.at < until,
  );
  const failed = after.find((c) => isFailedCheck(c) && (c.readingG - c.knownG) * step.pct > 0);
  if (failed !== undefined) return { check: "failed", checkAt: failed.at };
  const passed = after.at(-1);
  return passed === undefined
    ? { check: "none", checkAt: null }
    : { check: "passed", checkAt: passed.at };
}
