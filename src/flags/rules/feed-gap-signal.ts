import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import { onceFor } from "../../core/once-for.js";
import type { AnimalOrders, CivilDate, OrderLine } from "../../series/animal-series.js";
import { dayOrder } from "../../series/orders/day-order.js";
import { dueLines } from "../../series/orders/ordered-on.js";
import { firstAfter } from "../../series/rows-between.js";
import { bandAt } from "../../species/age-band.js";
import { medianInPlace } from "../../stats/descriptive/median.js";
import { addDays, type FeedingDaySpan, feedingDayOf } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { NotJudged } from "../animal-day/flag.js";
import { lastUpTo, type PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";
import type { WhatIsWritten } from "./what-is-written.js";

/** A stretch in which nothing was eaten, as far as is written; without what lies in a nil by mouth. */
interface Gap {
  readonly from: number;
  readonly hours: number;
  /** Feeds that are written in it, and of which nothing was eaten. */
  readonly refused: number;
}

/**
 * A gap in what was eaten, of its own feeds and its group's, by one rule for the day's
 * list and for the levels. "No feed", a danger: three feeds missing in a row, counted from a
 * quarter more than its own longest usual pause, or the pause that its plan orders; or
 * three feeds written of which nothing was eaten. "Missed feed", looked at: one feed
 * missing, two refused whole, or longer than twice what is usual at its
 * age and for this animal. A gap that still runs is measured until the last line
 * written that day. Hours are elapsed hours: midnight and the change of the clocks make
 * no difference, and no feed is missed while nothing by mouth is ordered. Of unknown age, the widest interval of the species stands in for its
 * own. Why three and not two is in decision note 30.
 */
export function feedGapSignal(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  ageD: number | null,
  written: WhatIsWritten,
  limits: RuleLimits,
  /** Whether what is not raised is wanted, too. */
  quietToo = true,
): readonly (Signal | NotJudged)[] {
  if (limits.feedGapTimes === null) return [];
  const kinds = ["no feed", "missed feed"] as const;
  const last = lastUpTo(animal.ateAt, span.to - 1);
  const rhythm = longestPauseH(animal, ageD);
  const habit = ownHabitH(animal, span.from);
  if (last < 1 || (rhythm === null && habit === 0)) {
    const why = notice("flag-no-rhythm", "info", { animal: animal.id });
    return kinds.map((kind) => ({ kind, why }));
  }
  const usual = Math.max(rhythm ?? 0, habit);
  const longest = longestOnce(animal, span);
  let worst: (Gap & GapLimits) | null = null;
  const gaps = gapsOf(animal, span, last, written).map((gap) => ({
    gap,
    plain: plainLimits(animal, longest, gap, usual, limits),
  }));
  if (!quietToo && !gaps.some(({ gap, plain }) => mayBeRaised(gap, plain, limits))) return [];
  for (const { gap, plain } of gaps) {
    if (worst !== null && !mayBeWorse(gap, plain, farOut(worst, worst), limits)) continue;
    const own = limitsOfGap(animal, gap, plain, limits);
    if (worst === null || farOut(gap, own) > farOut(worst, worst)) worst = { ...gap, ...own };
  }
  if (worst === null) return [];
  const { hours, from, refused, look, danger } = worst;
  const most = limits.noFeedTimes;
  const isDanger = danger !== null && (hours > danger || (most !== null && refused >= most));
  const isLook = hours > look || refused >= refusedLook;
  return kinds.flatMap((kind): Signal[] => {
    const limit = kind === "no feed" ? danger : look;
    if (limit === null) return [];
    const raised = kind === "no feed" ? isDanger : !isDanger && isLook;
    return [
      ruleSignal({
        class: kind === "no feed" ? "danger" : "practice",
        kind,
        direction: "high",
        raised,
        strength: raised ? Math.max(1, hours / limit) : Math.min(hours / limit, 0.99),
        value: measured(hours, "h"),
        threshold: limit,
        evidence: {
          gapH: hours,
          fromAt: from,
          usualH: usual,
          refused,
          running: from + hours * hourMs >= written.until(span) - 1,
        },
        sentence: notice("flag-feed-gap", "info", {
          animal: animal.id,
          hours,
          from,
          limit,
          usual,
          refused,
          danger: kind === "no feed",
        }),
      }),
    ];
  });
}

/** What is offered within so long is one meal. */
const oneMealH = 0.75;
/** So many feeds in a row of which nothing was eaten are looked at (common practice). */
const refusedLook = 2;

const farOut = (gap: Gap, limits: GapLimits) =>
  Math.max(gap.hours / limits.look, gap.refused / refusedLook);

/** From how many hours on a gap is looked at, and a danger; null where that is switched off. */
interface GapLimits {
  readonly look: number;
  readonly danger: number | null;
}

/** What the limits of a gap are made of, without the interval between feeds that is slow to find. */
interface PlainLimits {
  readonly usual: number;
  readonly plain: number;
  /** What the plan orders as a pause here, and a quarter more; 0 where it orders none. */
  readonly ordered: number;
  /** A quarter more than its own longest usual pause, or what is ordered. */
  readonly longest: number;
}

function plainLimits(
  animal: PreparedAnimal,
  longestGaps: (before: number) => readonly number[],
  gap: Gap,
  usual: number,
  limits: RuleLimits,
): PlainLimits {
  const plain = usual * limits.feedGapTimes!;
  // Its own longest pause, where days tell it: the species' rhythm may be far wider. The
  // lower quartile, since a day with a feed that was not written has a long one.
  const own = longestGaps(gap.from);
  const longest = 1.25 * (own.length < 3 ? usual : own[(own.length - 1) >> 2]!);
  // A new order may bring a night's rest that it has no habit of yet.
  const ordered =
    gap.hours > Math.min(plain, longest) ? limits.feedGapPlanTimes * plannedPauseH(animal, gap) : 0;
  return { usual, plain, ordered, longest: Math.max(longest, ordered) };
}

/** Pieces offered within so long are no interval between feeds, h. */
const leastIntervalH = 0.25;

/** The limits of a gap were its interval as short as can be. */
const leastLimits = (plain: PlainLimits, limits: RuleLimits) =>
  limitsWith(Math.min(leastIntervalH, plain.usual), plain, limits);

/** Whether a gap may be further out than the worst so far, however short its interval is. */
const mayBeWorse = (gap: Gap, plain: PlainLimits, worst: number, limits: RuleLimits) =>
  farOut(gap, leastLimits(plain, limits)) > worst;

/** Whether a gap may be raised, however short its interval is. */
function mayBeRaised(gap: Gap, plain: PlainLimits, limits: RuleLimits): boolean {
  const { look, danger } = leastLimits(plain, limits);
  if (gap.hours > look || gap.refused >= refusedLook) return true;
  const feeds = limits.noFeedTimes;
  return danger !== null && (gap.hours > danger || feeds! < 1 || gap.refused >= feeds!);
}

function limitsOfGap(animal: PreparedAnimal, gap: Gap, plain: PlainLimits, limits: RuleLimits) {
  return limitsWith(intervalH(animal, gap.from) ?? plain.usual, plain, limits);
}

function limitsWith(
  every: number,
  { plain, ordered, longest }: PlainLimits,
  limits: RuleLimits,
): GapLimits {
  const missing = (feeds: number) => longest + feeds * every;
  return {
    look: Math.min(Math.max(plain, ordered), missing(1)),
    danger: limits.noFeedTimes === null ? null : missing(limits.noFeedTimes - 1),
  };
}

/**
 * Its own longest pauses before a gap, and before the last 24 h of the day: the same for
 * nearly all gaps of a day, so that they are looked for once.
 */
function longestOnce(animal: PreparedAnimal, span: FeedingDaySpan) {
  const latest = span.to - 1 - dayMs;
  let known: readonly number[] | null = null;
  return (before: number) => {
    if (before < latest) return longestGapsH(animal, before);
    known ??= longestGapsH(animal, latest);
    return known;
  };
}

/** Median interval between its feeds in the week before a gap, h; null with fewer than four. */
function intervalH(animal: PreparedAnimal, before: number): number | null {
  const { feedAt } = animal;
  const last = lastUpTo(feedAt, before);
  const first = lastUpTo(feedAt, before - 7 * dayMs) + 2;
  if (intervals.length <= last - first) intervals = new Float64Array(2 * (last - first + 1));
  let gaps = 0;
  for (let i = first; i <= last; i++) {
    const h = (feedAt[i]! - feedAt[i - 1]!) / hourMs;
    if (h > leastIntervalH) intervals[gaps++] = h;
  }
  return gaps < 4 ? null : medianInPlace(intervals, gaps);
}

/** Used again: asked for some times a day of every animal. */
let intervals = new Float64Array(128);

/** Gaps that end on the day, and the one that still runs. */
function gapsOf(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  last: number,
  written: WhatIsWritten,
): Gap[] {
  const { ateAt } = animal;
  const gaps: Gap[] = [];
  for (let i = last; i > 0 && ateAt[i]! >= span.from; i--)
    gaps.push(gapOf(animal, ateAt[i - 1]!, ateAt[i]!));
  const until = written.until(span);
  if (until > ateAt[last]!) gaps.push(gapOf(animal, ateAt[last]!, until));
  return gaps;
}

/** The longest part of a stretch in which feeds were not forbidden, and what is written in it. */
function gapOf(animal: PreparedAnimal, from: number, to: number): Gap {
  const best = { from, to: from };
  let begin = from;
  const allowedUntil = (start: number) => {
    if (start - begin > best.to - best.from) [best.from, best.to] = [begin, start];
  };
  for (const s of animal.series.orders.steps) {
    if (s.inForce.state !== "nil by mouth" || s.from >= to || (s.to ?? to) <= from) continue;
    allowedUntil(s.from);
    begin = Math.max(begin, s.to ?? to);
  }
  allowedUntil(to);
  // Pieces offered one after the other are one meal, and so is what follows what was eaten.
  let refused = 0;
  let meal = best.from;
  const { feeds } = animal.series;
  for (let i = firstAfter(feeds, best.from); i < feeds.length; i++) {
    const feed = feeds[i]!;
    if (feed.at > best.to) break;
    if (feed.eatenHighG > 0) continue;
    if (feed.at - meal < oneMealH * hourMs) continue;
    meal = feed.at;
    refused++;
  }
  return { from: best.from, hours: (best.to - best.from) / hourMs, refused };
}

/** Longest interval that is usual for the species at that age, the pause at night included, h. */
function longestPauseH(animal: PreparedAnimal, ageD: number | null): number | null {
  const bands = animal.profile.feedingRhythm;
  const own = bandAt(bands, ageD);
  const counted = own === null ? (ageD === null ? bands : []) : [own];
  if (counted.length === 0) return null;
  return Math.max(
    ...counted.map((band) =>
      Math.max(
        band.everyH.range[1],
        band.betweenHours === null ? 0 : 24 - (band.betweenHours[1] - band.betweenHours[0]),
      ),
    ),
  );
}

/**
 * The pause that the plan orders where a gap lies, h; 0 where it orders none. From feed
 * times: the longest stretch between two of them whose middle lies in the gap, or that
 * holds the gap's own middle, so that the rest of a night excuses no gap by day. From a
 * number of feeds alone: what is left of 24 h when the others are given at the species'
 * longest interval, by the plan at the gap's beginning or at its end, and only where as
 * many were given in the 24 h before the gap as were ordered.
 */
function plannedPauseH(animal: PreparedAnimal, gap: Gap): number {
  const { orders } = animal.series;
  const to = gap.from + gap.hours * hourMs;
  return Math.max(
    timedPauseH(orders, gap.from, to),
    countedPauseH(dueLines(orders, gap.from), animal, gap),
    countedPauseH(dueLines(orders, to), animal, gap),
  );
}

function timedPauseH(orders: AnimalOrders, from: number, to: number): number {
  const { zone, startHour } = orders;
  // Of a gap over many days its last ones tell what is ordered.
  const first = feedingDayOf(Math.max(from, to - 2 * dayMs), zone, startHour);
  const days = [-1, 0, 1, 2, 3].map((k) => addDays(first, k));
  const due = days.flatMap((day) => timesDue(orders, day));
  const middle = (from + to) / 2;
  let longest = 0;
  for (const [i, next] of due.entries()) {
    const last = due[i - 1];
    if (last === undefined) continue;
    const own = (last + next) / 2;
    const here = (own > from && own < to) || (last <= middle && middle <= next);
    if (here) longest = Math.max(longest, (next - last) / hourMs);
  }
  return longest;
}

/** Times ordered for a day; the gaps of five days ask for those of one. */
const timesDue = onceFor((orders: AnimalOrders, day: CivilDate): readonly number[] =>
  dayOrder(orders, day).feeds.flatMap(({ at }) => at ?? []),
);

function countedPauseH(lines: readonly OrderLine[], animal: PreparedAnimal, gap: Gap): number {
  if (lines.some((l) => l.times.length > 0)) return 0;
  const feeds = lines.reduce((sum, l) => sum + (l.feeds ?? 0), 0);
  if (feeds === 0) return 0;
  const birth = animal.series.age.birth;
  const every = bandAt(
    animal.profile.feedingRhythm,
    birth === null ? null : (gap.from - birth) / dayMs,
  )?.everyH.range[1];
  if (every === undefined) return 0;
  const { feedAt } = animal;
  const given = lastUpTo(feedAt, gap.from) - lastUpTo(feedAt, gap.from - 24 * hourMs);
  return given < feeds ? 0 : 24 - (feeds - 1) * every;
}

/** Median over the last 7 days of the longest gap of each 24 h: what is usual for this animal, h. */
function ownHabitH(animal: PreparedAnimal, before: number): number {
  const longest = longestGapsH(animal, before);
  return longest.length < 3 ? 0 : longest[longest.length >> 1]!;
}

/** The longest gap of each of the 7 days before an instant, h, the shortest first; days without a gap left out. */
function longestGapsH(animal: PreparedAnimal, before: number): readonly number[] {
  const longest: number[] = [];
  for (let back = 1; back <= 7; back++) {
    const to = before - (back - 1) * 24 * hourMs;
    let most = 0;
    for (
      let i = lastUpTo(animal.feedAt, to - 1);
      i > 0 && animal.feedAt[i]! >= to - 24 * hourMs;
      i--
    ) {
      most = Math.max(most, animal.feedAt[i]! - animal.feedAt[i - 1]!);
    }
    if (most > 0) longest.push(most / hourMs);
  }
  return longest.sort((a, b) => a - b);
}
