import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, DailyMass } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import { keptIntake, keptIsKnown, keptKnownTo } from "./kept-intake.js";
import { type SlopeWithError, serialSlope } from "./serial-slope.js";
import type { UsableFeed } from "./usable-feeds.js";

/** The weighings from t1 to t2, both included. */
export function windowRows(
  daily: readonly DailyMass[],
  endAt: number,
  days: number,
): readonly DailyMass[] {
  const past = daily.filter((d) => d.at <= endAt && d.massG > 0);
  const last = past.at(-1);
  if (last === undefined) return [];
  const aim = last.at - days * dayMs;
  const near = past.filter((d) => Math.abs(d.at - aim) <= dayMs / 2);
  const first =
    near.length > 0
      ? near.reduce((a, b) => (Math.abs(b.at - aim) < Math.abs(a.at - aim) ? b : a))
      : past.find((d) => d.at >= aim)!;
  return past.filter((d) => d.at >= first.at);
}

/** Why what was eaten cannot be set against the gain of this one animal, or null. */
export function notAttributable(
  series: AnimalSeries,
  from: number,
  to: number,
  inside: readonly UsableFeed[],
): Notice | null {
  const animal = series.animal.animalId;
  const within = (x: { readonly at: number }) => x.at >= from && x.at < to;
  const shared = series.sharedFeeds.filter(within).length;
  if (shared > 0) return notice("conversion-shared-feeds", "caution", { animal, n: shared });
  const { eatenG, cameUpG, times } = keptIntake(series, from - 1, to - 1);
  if (!keptIsKnown(eatenG, cameUpG)) {
    const parameters = { animal, n: times, pct: 100 * keptKnownTo };
    return notice("conversion-feed-lost", "caution", parameters);
  }
  return inside.length === 0 ? notice("conversion-no-feeds", "caution", { animal }) : null;
}

/**
 * Least-squares slope of mass on time, g/d, with its error, and the lag-1
 * correlation of the residuals (3 rows or more).
 */
export function massSlope(
  rows: readonly DailyMass[],
  options: Parameters<typeof serialSlope>[2],
): SlopeWithError & { readonly lag1: number } {
  const n = rows.length;
  const start = rows[0]!.at;
  const x = rows.map((r) => (r.at - start) / dayMs);
  const y = rows.map((r) => r.massG);
  const fit = serialSlope(x, y, options);
  const mx = x.reduce((a, b) => a + b, 0) / n;
  const my = y.reduce((a, b) => a + b, 0) / n;
  const residuals = x.map((v, i) => y[i]! - my - fit.slope * (v - mx));
  const rss = residuals.reduce((s, e) => s + e * e, 0);
  let next = 0;
  for (let i = 1; i < n; i++) next += residuals[i]! * residuals[i - 1]!;
  return { ...fit, lag1: rss > 0 ? next / rss : 0 };
}

/** Longest stretch of [from, to] without a recorded feed, ms. */
export function longestGap(feeds: readonly UsableFeed[], from: number, to: number): number {
  let longest = 0;
  let before = from;
  for (const f of feeds) {
    longest = Math.max(longest, f.at - before);
    before = f.at;
  }
  return Math.max(longest, to - before);
}
