import type { CivilDate } from "../../series/animal-series.js";
import { addDays } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { AnimalAnalysis } from "../study-analysis.js";

/** One step in an animal's own course, where it fits better than a bend does. */
export interface StepInCourse {
  /** First feeding day after it. */
  readonly day: CivilDate;
  readonly at: number;
  /** Share by which the course went up (down: negative), and its standard error. */
  readonly step: number;
  readonly se: number;
  /** By how much of squared standard errors one step fits better than one bend. */
  readonly overBend: number;
  /** Slope of ln mass a day along the whole course, and after the step where 4 weighings tell. */
  readonly slope: number;
  readonly after: number | null;
  readonly afterSe: number | null;
}

/** From here on a step fits clearly better than a bend. */
export const clearOverBend = 6;

/** Days looked at, the last of them those in which a step is looked for. */
const courseD = 26;
const newestD = 14;
const fewest = 3;
/** What a weighing scatters by, and how much more neighbouring days that err alike count. */
const scatter = 0.008;
const alike = 1.3;

/**
 * The one step that fits an animal's course of the last four weeks best, beside the
 * one bend that does: what an animal gains bends its course, what is wrong with a
 * weighing steps it. Arrival is left out by `from`.
 */
export function stepInCourse(
  animal: AnimalAnalysis,
  onDay: CivilDate,
  from: CivilDate,
): StepInCourse | null {
  const first = [addDays(onDay, -courseD), from].sort()[1]!;
  const rows = animal.series.daily.filter(
    (d) => d.feedingDay >= first && d.feedingDay <= onDay && d.massG > 0,
  );
  const n = rows.length;
  if (n < 10) return null;
  const t = rows.map((d) => d.at / dayMs);
  const y = rows.map((d) => Math.log(d.massG));
  // Stated errors are wide where a condition was not written; against each other they serve.
  const stated = rows.map((d) => Math.max(d.errorG / d.massG, 1e-4));
  const usual = [...stated].sort((a, b) => a - b)[n >> 1]!;
  const w = stated.map((e) => 1 / (alike * scatter * Math.max(1, e / usual)) ** 2);
  const looked = addDays(onDay, -newestD);
  let best: { k: number; fit: Fit } | null = null;
  let bend = Number.POSITIVE_INFINITY;
  for (let k = fewest; k < n; k++) {
    const step = fitWith(t, y, w, (i) => (i >= k ? 1 : 0));
    if (step !== null && rows[k]!.feedingDay > looked && step.rss < (best?.fit.rss ?? Infinity))
      best = { k, fit: step };
    const turn = fitWith(t, y, w, (i) => Math.max(0, t[i]! - t[k - 1]!));
    if (turn !== null && turn.rss < bend) bend = turn.rss;
  }
  if (best === null) return null;
  const { k, fit } = best;
  return {
    day: rows[k]!.feedingDay,
    at: rows[k]!.at,
    step: fit.third,
    se: fit.se,
    overBend: bend - fit.rss,
    slope: fit.slope,
    ...slopeAfter(t.slice(k), y.slice(k), w.slice(k)),
  };
}

function slopeAfter(t: readonly number[], y: readonly number[], w: readonly number[]) {
  if (t.length < 4) return { after: null, afterSe: null };
  const W = w.reduce((a, b) => a + b, 0);
  const mean = (v: readonly number[]) => v.reduce((sum, x, i) => sum + w[i]! * x, 0) / W;
  const [mt, my] = [mean(t), mean(y)];
  const xx = t.reduce((sum, x, i) => sum + w[i]! * (x - mt) ** 2, 0);
  const xy = t.reduce((sum, x, i) => sum + w[i]! * (x - mt) * (y[i]! - my), 0);
  return { after: xy / xx, afterSe: Math.sqrt(1 / xx) };
}

interface Fit {
  readonly third: number;
  readonly slope: number;
  readonly se: number;
  readonly rss: number;
}

/** Weighted least squares of level, slope and a third column; its coefficient. */
export function fitWith(
  t: readonly number[],
  y: readonly number[],
  w: readonly number[],
  third: (i: number) => number,
): Fit | null {
  const total = (f: (i: number) => number) => w.reduce((sum, wi, i) => sum + wi * f(i), 0);
  const W = total(() => 1);
  const mean = (f: (i: number) => number) => total(f) / W;
  const [mt, my, mz] = [mean((i) => t[i]!), mean((i) => y[i]!), mean(third)];
  const x = (i: number) => t[i]! - mt;
  const z = (i: number) => third(i) - mz;
  const v = (i: number) => y[i]! - my;
  const [xx, zz, xz] = [
    total((i) => x(i) ** 2),
    total((i) => z(i) ** 2),
    total((i) => x(i) * z(i)),
  ];
  const [xv, zv] = [total((i) => x(i) * v(i)), total((i) => z(i) * v(i))];
  const det = xx * zz - xz * xz;
  if (!(det > 1e-9 * xx * zz)) return null;
  const c = (xx * zv - xz * xv) / det;
  const b = (zz * xv - xz * zv) / det;
  return {
    third: c,
    slope: b,
    se: Math.sqrt(xx / det),
    rss: total((i) => (v(i) - b * x(i) - c * z(i)) ** 2),
  };
}
