import type {
  AnimalSeries,
  CivilDate,
  SeriesFeed,
  StudySettings,
} from "../series/animal-series.js";
import { dayOrder } from "../series/orders/day-order.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { feedingDays, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { minuteMs } from "../units/minute-ms.js";

export interface LateFeed {
  readonly expectedAt: number;
  readonly givenAt: number;
  readonly lateMin: number;
}

/** A feeding day on which fewer feeds were given than planned. */
export interface ShortDay {
  readonly feedingDay: CivilDate;
  readonly planned: number;
  readonly given: number;
}

export interface PlanComparison {
  /** What the feeds were held against. */
  readonly against: "plan" | "species profile" | "nothing";
  readonly late: readonly LateFeed[];
  /** Planned times at which no feed was given. */
  readonly missedAt: readonly number[];
  readonly shortDays: readonly ShortDay[];
  /** Late and missed feeds in all. */
  readonly lateCount: number;
  readonly missedCount: number;
}

interface CompareOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour">;
  readonly lateMin: number;
}

/**
 * Holds the feeds against what is ordered: ordered times one by one, else the
 * number ordered per whole feeding day. Without any order the species profile's
 * rhythm for the age stands in: an interval more than `lateMin` beyond the
 * profile's longest is a late feed, one beyond twice that holds missed ones; a
 * night pause of the profile is allowed for.
 */
export function compareWithPlan(
  series: AnimalSeries,
  feeds: readonly SeriesFeed[],
  meals: readonly number[],
  profile: SpeciesProfile,
  options: CompareOptions,
): PlanComparison {
  if (!series.orders.lines.some((line) => line.feeds !== null) || feeds.length === 0) {
    return againstProfile(series, meals, profile, options);
  }
  const late: LateFeed[] = [];
  const missedAt: number[] = [];
  const shortDays: ShortDay[] = [];
  const { zone, feedingDayStartHour } = options.settings;
  const first = feeds[0]!.at;
  const last = feeds.at(-1)!.at;
  for (const day of feedingDays(first, last, zone, feedingDayStartHour)) {
    const ordered = dayOrder(series.orders, day.day);
    // Two diets at one time are one meal; which diet was given does not matter here.
    const times = [...new Set(ordered.feeds.flatMap((f) => (f.at === null ? [] : [f.at])))];
    matchTimes(
      times.filter((t) => t >= first && t <= last),
      feeds,
      options.lateMin,
      late,
      missedAt,
    );
    const planned = ordered.feeds.length;
    const counted = times.length === 0 && ordered.uncounted.length === 0;
    if (!counted || planned === 0 || day.from < first || day.to > last) continue;
    const given = feeds.filter((f) => f.at >= day.from && f.at < day.to).length;
    if (given < planned) shortDays.push({ feedingDay: day.day, planned, given });
  }
  const short = shortDays.reduce((sum, d) => sum + d.planned - d.given, 0);
  return {
    against: "plan",
    late,
    missedAt,
    shortDays,
    lateCount: late.length,
    missedCount: missedAt.length + short,
  };
}

/** Each planned time takes the nearest feed not yet taken within half the way to its neighbours. */
function matchTimes(
  times: readonly number[],
  feeds: readonly SeriesFeed[],
  lateMin: number,
  late: LateFeed[],
  missedAt: number[],
): void {
  const taken = new Set<SeriesFeed>();
  times.forEach((time, i) => {
    const before = times[i - 1];
    const after = times[i + 1];
    const reachBack = before === undefined ? 2 * hourMs : (time - before) / 2;
    const reachOn = after === undefined ? 2 * hourMs : (after - time) / 2;
    const near = feeds
      .filter((f) => !taken.has(f) && f.at > time - reachBack && f.at <= time + reachOn)
      .sort((a, b) => Math.abs(a.at - time) - Math.abs(b.at - time))[0];
    if (near === undefined) {
      missedAt.push(time);
      return;
    }
    taken.add(near);
    const minutes = (near.at - time) / minuteMs;
    if (minutes > lateMin) late.push({ expectedAt: time, givenAt: near.at, lateMin: minutes });
  });
}

function againstProfile(
  series: AnimalSeries,
  meals: readonly number[],
  profile: SpeciesProfile,
  options: CompareOptions,
): PlanComparison {
  const late: LateFeed[] = [];
  const missedAt: number[] = [];
  let judged = false;
  for (let i = 1; i < meals.length; i++) {
    const from = meals[i - 1]!;
    const to = meals[i]!;
    const ageD = series.age.birth === null ? null : (from - series.age.birth) / dayMs;
    const band = bandAt(profile.feedingRhythm, ageD);
    if (band === null) continue;
    judged = true;
    const pause = band.betweenHours;
    const allowedH = band.everyH.range[1];
    // Over the profile's night pause the interval may be as long as the pause.
    const nightH = pause === null ? 0 : 24 - (pause[1] - pause[0]);
    const localFrom = hourOfDay(from, options.settings.zone);
    const overNight = pause !== null && localFrom >= pause[1] - allowedH && to - from <= dayMs;
    const mostH = overNight ? Math.max(allowedH, nightH + allowedH / 2) : allowedH;
    const lateBy = (to - from) / minuteMs - mostH * 60;
    if (lateBy <= options.lateMin) continue;
    const expectedAt = from + mostH * hourMs;
    const missed = Math.floor((to - from) / (mostH * hourMs)) - 1;
    for (let k = 0; k < missed; k++) missedAt.push(expectedAt + k * mostH * hourMs);
    if (missed <= 0) late.push({ expectedAt, givenAt: to, lateMin: lateBy });
  }
  return {
    against: judged ? "species profile" : "nothing",
    late,
    missedAt,
    shortDays: [],
    lateCount: late.length,
    missedCount: missedAt.length,
  };
}

function hourOfDay(at: number, zone: string): number {
  return (((toLocal(at, zone) / hourMs) % 24) + 24) % 24;
}
