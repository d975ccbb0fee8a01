import type { PlanRow } from "../series/animal-series.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { type FeedingDaySpan, localInstant, numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { feedsOf } from "./ration-amount.js";

const hourMs = 3_600_000;

export interface FeedSchedule {
  /** Instants of the feeds of one feeding day, in order. */
  readonly times: readonly number[];
  readonly from: "entered" | "plan" | "species profile" | "nothing known";
  /** Most feeds the profile's rhythm allows on that day; null where it gives none. */
  readonly mostFeeds: number | null;
}

/**
 * The feeding times of a day: as entered, else from the plan in force, else
 * from the profile's rhythm for the age (its shortest interval, day and night or
 * within its hours). A number of feeds is spread evenly in real time, so that a
 * night on which the clock changes gets no double or missing feed.
 */
export function feedSchedule(
  span: FeedingDaySpan,
  zone: string,
  ageD: number | null,
  profile: SpeciesProfile,
  plans: readonly PlanRow[],
  entered: {
    readonly feedsPerDay?: number | undefined;
    readonly feedTimes?: readonly string[] | undefined;
  },
): FeedSchedule {
  const band = bandAt(profile.feedingRhythm, ageD);
  const hours = band?.betweenHours ?? null;
  const mostFeeds =
    band === null
      ? null
      : hours === null
        ? Math.floor(span.hours / band.everyH.range[0] + 1e-9)
        : Math.floor((hours[1] - hours[0]) / band.everyH.range[0] + 1e-9) + 1;
  const done = (times: readonly number[], from: FeedSchedule["from"]): FeedSchedule => ({
    times: [...times].sort((a, b) => a - b),
    from,
    mostFeeds,
  });
  if (entered.feedTimes !== undefined && entered.feedTimes.length > 0) {
    return done(clockTimes(entered.feedTimes, span, zone), "entered");
  }
  if (entered.feedsPerDay !== undefined && entered.feedsPerDay > 0) {
    return done(spread(entered.feedsPerDay, span, hours, zone), "entered");
  }
  const planned = plans.flatMap((p) => p.feedTimes);
  if (planned.length > 0) return done(clockTimes([...new Set(planned)], span, zone), "plan");
  const count = plans.reduce((sum, p) => sum + feedsOf(p), 0);
  if (count > 0) return done(spread(count, span, hours, zone), "plan");
  if (mostFeeds !== null) return done(spread(mostFeeds, span, hours, zone), "species profile");
  return done([], "nothing known");
}

/** `n` feeds spread evenly, to five minutes, over the day or the hours allowed. */
export function spread(
  n: number,
  span: FeedingDaySpan,
  hours: readonly [number, number] | null,
  zone: string,
): number[] {
  const fiveMin = 300_000;
  const near = (at: number) => Math.round(at / fiveMin) * fiveMin;
  if (hours === null) {
    return Array.from({ length: n }, (_, i) => near(span.from + ((span.to - span.from) * i) / n));
  }
  const midnight = numberOfDate(span.day) * dayMs;
  const first = localInstant(midnight + hours[0] * hourMs, zone);
  const last = localInstant(midnight + hours[1] * hourMs, zone);
  if (n === 1) return [first];
  return Array.from({ length: n }, (_, i) => near(first + ((last - first) * i) / (n - 1)));
}

/** Local clock times "HH:MM" as instants of a feeding day. */
function clockTimes(times: readonly string[], span: FeedingDaySpan, zone: string): number[] {
  const midnight = numberOfDate(span.day) * dayMs;
  return times.flatMap((text) => {
    const m = /^(\d{1,2}):(\d{2})$/.exec(text.trim());
    if (m === null) return [];
    const clock = +m[1]! * hourMs + +m[2]! * 60_000;
    return [midnight + clock, midnight + dayMs + clock]
      .map((local) => localInstant(local, zone))
      .filter((at) => at >= span.from && at < span.to)
      .slice(0, 1);
  });
}

/** The clock time of an instant. @example clockText(Date.UTC(2025, 4, 1, 6), "UTC") // "06:00" */
export function clockText(at: number, zone: string): string {
  return new Date(toLocal(at, zone)).toISOString().slice(11, 16);
}
