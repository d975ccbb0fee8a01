import { dayMs } from "../units/day-ms.js";
import type { AnimalAnalysis } from "./study-analysis.js";

/** One weighed day as plain numbers. */
export interface CourseRow {
  /** Day number of the instant (instant / length of a day), not whole days. */
  readonly time: number;
  readonly logMass: number;
  /** Standard error of ln mass as the usual-condition mass. */
  readonly error: number;
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

/**
 * The weighed days of an animal for `courseAt`. Left out are days in arrival (early change
 * is rehydration) and in the post-weaning fast (loss is expected).
 */
export function courseRows({ phases, series }: AnimalAnalysis): readonly CourseRow[] {
  const arrivalEnd = phases.find((p) => p.phase === "arrival")?.to ?? Number.NEGATIVE_INFINITY;
  const fasts = phases.filter((p) => p.phase === "post-weaning fast");
  const inFast = (at: number) => fasts.some((p) => at >= p.from && (p.to === null || at < p.to));
  return series.daily
    .filter((d) => d.massG > 0 && d.at >= arrivalEnd && !inFast(d.at))
    .map((d) => ({
      time: d.at / dayMs,
      logMass: Math.log(d.massG),
      error: Math.max(1e-4, d.errorG / d.massG),
    }));
}
