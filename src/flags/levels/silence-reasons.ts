import { notice } from "../../core/notice.js";
import type { Instant } from "../../series/animal-series.js";
import { dayOrder } from "../../series/orders/day-order.js";
import { bandAt } from "../../species/age-band.js";
import { median } from "../../stats/descriptive/median.js";
import { addDays, feedingDayOf } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/**
 * One animal without any entry while others are written: "go and look now". The very
 * young: two feed intervals, at most 6 h; others: twice the median gap of their last
 * 7 days, at most 12 h. A stretch that is its usual night rest counts as none. One that is only weighed has
 * the rhythm of its weighings. No animal of others, no silence of one.
 */
export function silenceReasons(c: LevelCase): LevelReason[] {
  const { animalId, admittedAt } = c.series.animal;
  const entries = entriesOf(c);
  const last = entries.at(-1) ?? admittedAt;
  if (last === null || c.heardOfOthers === null) return [];
  const hours = (c.heardOfOthers - last) / hourMs;
  const limit = silenceLimitH(c, entries);
  if (!(hours > limit) || isUsualRest(c, entries, last)) return [];
  const mass = c.series.daily.at(-1) ?? null;
  return [
    makeReason({
      level: "second look",
      what: "silence",
      sentence: notice("level-silence", "problem", {
        animal: animalId,
        hours,
        last,
        limit,
        everWritten: entries.length > 0,
        mass: mass?.massG ?? null,
        massAt: mass?.at ?? null,
      }),
      at: last,
      act: "go and look now",
      byAt: c.at,
      suggestionsWait: true,
    }),
  ];
}

/** Every instant at which anything was written of it, its group's feeds included, in order. */
function entriesOf({ series }: LevelCase): Instant[] {
  const rows = [series.feeds, series.sharedFeeds, series.weighings, series.signs];
  const all = rows.flatMap((of: readonly { readonly at: Instant }[]) => of.map((r) => r.at));
  return all.sort((a, b) => a - b);
}

/** After how many hours without an entry it is silent. */
export function silenceLimitH(c: LevelCase, entries: readonly Instant[]): number {
  const { limits, series } = c;
  const last = entries.at(-1);
  if (last === undefined) return c.veryYoung ? limits.silentYoungH : limits.silentH;
  const week = entries.filter((t) => t > last - 7 * dayMs);
  const gaps = gapsOf(week);
  const onlyWeighed = ![series.feeds, series.sharedFeeds, series.signs].some(
    (rows: readonly { readonly at: Instant }[]) => rows.some((r) => r.at > last - 7 * dayMs),
  );
  const usual = gaps.length === 0 ? null : median(gaps)!;
  // Weighed alone, and once a day or less: nobody meant to write more of it.
  if (onlyWeighed && usual !== null) return Math.max(limits.silentH, limits.silentGaps * usual);
  if (c.veryYoung && limits.silentFeeds !== null) {
    const fed = gapsOf(c.prepared.feedAt.filter((t) => t > last - 3 * dayMs && t <= last));
    const every = fed.length >= 4 ? median(fed)! : (longestEveryH(c) ?? limits.silentYoungH / 2);
    return Math.min(limits.silentYoungH, limits.silentFeeds * every);
  }
  if (usual === null) return limits.silentH;
  return Math.min(limits.silentH, limits.silentGaps * usual);
}

/** A rest that is longer than this is none, h: of the very young, and of others. */
const longestRestH = { young: 9, other: 12 } as const;

/**
 * Is the stretch its night rest: without an entry at the same hours of most of the days
 * before too? The ends of the stretch move from day to day by up to a quarter of it.
 */
function isUsualRest(c: LevelCase, entries: readonly Instant[], last: Instant): boolean {
  const to = c.heardOfOthers!;
  const hours = (to - last) / hourMs;
  if (hours > (c.veryYoung ? longestRestH.young : longestRestH.other)) return false;
  if (isOrderedRest(c, last, to)) return true;
  const slack = Math.min(2 * hourMs, 0.25 * (to - last));
  let quiet = 0;
  let days = 0;
  for (let back = 1; back <= 7; back++) {
    const from = last + slack - back * dayMs;
    const until = to - slack - back * dayMs;
    if (entries[0] === undefined || entries[0] > from) continue;
    days++;
    if (!entries.some((t) => t >= from && t <= until)) quiet++;
  }
  return days >= 3 && quiet > days / 2;
}

/** A feed that is due is written within so much of its time. */
const lateH = 1;

/** Times are ordered, and none of them lies in the stretch. */
function isOrderedRest(c: LevelCase, last: Instant, to: Instant): boolean {
  const { orders } = c.series;
  const first = feedingDayOf(last, orders.zone, orders.startHour);
  const days = [first, addDays(first, 1)];
  const due = days.flatMap((day) => dayOrder(orders, day).feeds.map((f) => f.at));
  const timed = due.filter((at) => at !== null);
  if (timed.length === 0 || timed.length < due.length) return false;
  return !timed.some((at) => at > last + lateH * hourMs && at < to - lateH * hourMs);
}

function gapsOf(instants: readonly Instant[]): number[] {
  const gaps = instants.slice(1).map((t, i) => (t - instants[i]!) / hourMs);
  // What is written of one visit is one entry.
  return gaps.filter((h) => h > 0.25);
}

function longestEveryH(c: LevelCase): number | null {
  return bandAt(c.profile.feedingRhythm, c.ageD)?.everyH.range[1] ?? null;
}
