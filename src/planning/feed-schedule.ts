import type { DayOrder } from "../series/animal-series.js";
import { instantOfTime } from "../series/orders/ordered-on.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { type FeedingDaySpan, localInstant, numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";

export interface FeedSchedule {
  /** Instants of the feeds of one feeding day, in order. */
  readonly times: readonly number[];
  readonly from: "entered" | "order" | "species profile" | "nothing known";
  /** Most feeds the profile's rhythm allows on that day; null where it gives none. */
  readonly mostFeeds: number | null;
}

/**
 * The feeding times of a day: as entered, else as ordered, else
 * from the profile's rhythm for the age (its shortest interval, day and night or
 * within its hours). A number of feeds is spread evenly in real time, so that a
 * night on which the clock changes gets no double or missing feed.
 */
export function feedSchedule(
  span: FeedingDaySpan,
  zone: string,
  ageD: number | null,
  profile: SpeciesProfile,
  ordered: DayOrder,
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
    return done(
      entered.feedTimes.flatMap((t) => instantOfTime(t, span.from, span.to, zone) ?? []),
      "entered",
    );
  }
  if (entered.feedsPerDay !== undefined && entered.feedsPerDay > 0) {
    return done(spread(entered.feedsPerDay, span, hours, zone), "entered");
  }
  if (ordered.feeds.length > 0) return done(orderedTimes(ordered, span, hours, zone), "order");
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

/** Ordered times, and for feeds ordered without one a time spread over the day: for the kitchen only. */
export function orderedTimes(
  { feeds }: DayOrder,
  span: FeedingDaySpan,
  hours: readonly [number, number] | null,
  zone: string,
): number[] {
  const free = spread(feeds.filter((f) => f.at === null).length, span, hours, zone);
  return [...feeds.flatMap((f) => (f.at === null ? [] : [f.at])), ...free];
}
