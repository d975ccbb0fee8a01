import type { DailyMass, Instant } from "../../series/animal-series.js";
import { median } from "../../stats/descriptive/median.js";
import { daysBetween } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { LevelCase } from "./level-case.js";

/** What a mass is held against. */
export interface LossReference {
  readonly from:
    | "admission"
    | "birth"
    | "end of the fast"
    | "best of 14 days"
    | "day before"
    | "course"
    | "begin";
  readonly massG: number;
  readonly at: Instant;
  /** A median of three daily masses errs less than one of them. */
  readonly ofThree: boolean;
  /** Look and danger, %; the usual ones where absent. */
  readonly limits?: readonly [number | null, number | null];
}

/** Three daily masses further apart than this are no level. */
const longestLevelD = 6;

/**
 * Admission, birth, the best level of the 14 days before (median of three daily masses
 * that follow each other), and the weighed days of the two before.
 */
export function settledReferences(
  before: readonly DailyMass[],
  at: Instant,
  /** End of a fast or moult that is over: what was weighed before it is no measure. */
  since: Instant | null = null,
): LossReference[] {
  if (since !== null) before = before.filter((d) => d.at >= since);
  const first = before[0];
  const last = before.at(-1);
  if (first === undefined || last === undefined) return [];
  const born = first.ageD !== null && first.ageD < 1;
  const found: LossReference[] = [
    {
      from: since !== null ? "end of the fast" : born ? "birth" : "admission",
      massG: first.massG,
      at: first.at,
      ofThree: false,
    },
  ];
  const best = bestLevel(before.filter((d) => d.at >= at - 14 * dayMs));
  if (best !== null) found.push(best);
  // Two small falls in a row are one fall.
  const near = before.filter((d) => d !== first && (at - d.at) / dayMs <= 2.25);
  for (const d of near)
    found.push({ from: "day before", massG: d.massG, at: d.at, ofThree: false });
  return found;
}

/** The largest median of three neighbouring daily masses; null with fewer than three. */
export function bestLevel(daily: readonly DailyMass[]): LossReference | null {
  let best: LossReference | null = null;
  for (let i = 2; i < daily.length; i++) {
    const three = [daily[i - 2]!, daily[i - 1]!, daily[i]!];
    if (daysBetween(three[0]!.feedingDay, three[2]!.feedingDay) > longestLevelD) continue;
    const massG = median(three.map((d) => d.massG))!;
    if (best === null || massG > best.massG)
      best = { from: "best of 14 days", massG, at: three[1]!.at, ofThree: true };
  }
  return best;
}

/**
 * In a fast or moult: its own course (the line through the logarithms of its days so
 * far, at least four), and its beginning, for which wider limits hold.
 */
export function fastReferences(
  before: readonly DailyMass[],
  fast: { readonly from: Instant },
  c: LevelCase,
  latest: { readonly at: Instant },
): LossReference[] {
  const found: LossReference[] = [];
  const begin = before.filter((d) => d.at <= fast.from).at(-1) ?? before[0];
  if (begin !== undefined && c.limits.fastLossPct !== null)
    found.push({
      from: "begin",
      massG: begin.massG,
      at: begin.at,
      ofThree: false,
      limits: c.limits.fastLossPct,
    });
  const own = before.filter((d) => d.at >= fast.from);
  if (own.length < 4) {
    const last = before.at(-1);
    if (last !== undefined && (latest.at - last.at) / dayMs <= 2.25)
      found.push({ from: "day before", massG: last.massG, at: last.at, ofThree: false });
    return found;
  }
  const x = own.map((d) => (d.at - latest.at) / dayMs);
  const y = own.map((d) => Math.log(d.massG));
  const mx = x.reduce((a, b) => a + b, 0) / x.length;
  const my = y.reduce((a, b) => a + b, 0) / y.length;
  const sxx = x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
  const slope = sxx > 0 ? x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0) / sxx : 0;
  // A course never rises: what came back between two drinks is none.
  const massG = Math.exp(my - Math.min(slope, 0) * mx);
  found.push({ from: "course", massG, at: own.at(-1)!.at, ofThree: true });
  return found;
}
