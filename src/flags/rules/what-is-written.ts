import type { AnimalSeries, CivilDate, StudySettings } from "../../series/animal-series.js";
import {
  addDays,
  type FeedingDaySpan,
  feedingDayOf,
  feedingDaySpan,
  numberOfDate,
} from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import { excretedAt, lastUpTo } from "../animal-day/prepared-animal.js";
import type { RuleLimits } from "./rule-limits.js";

export type Excretion = "stool" | "urine";

/** How regularly stool or urine of the young is written at this facility. */
export interface WritingHabit {
  /** Days of other young animals on which it could have been judged, a week and more ago. */
  readonly days: number;
  /** Of those, days whose records had a gap as long as the limit, %; null without days. */
  readonly gapsPct: number | null;
  /** Animals with such gaps. */
  readonly animals: number;
}

/** What the pages of a study can show, as far as they were written by a day. */
export interface WhatIsWritten {
  /**
   * Until when anything at all was written on a feeding day: a gap that still runs
   * is measured up to there, not to an end of the day that may not have come yet.
   */
  readonly until: (span: FeedingDaySpan) => number;
  readonly habit: (kind: Excretion, exceptId: string, day: CivilDate) => WritingHabit;
}

/** Judged days of one animal, counted up: day numbers and how many of them had a gap. */
interface Counted {
  readonly id: string;
  readonly days: readonly number[];
  readonly gaps: readonly number[];
}

/** The same of all animals: each, and all of them counted up by day. */
interface AllCounted {
  readonly byId: ReadonlyMap<string, Counted>;
  /** Days of any animal, those with a gap, and each animal's first one, in order. */
  readonly days: readonly number[];
  readonly gapDays: readonly number[];
  readonly firstGaps: readonly number[];
}

/**
 * Looks a study's pages over, each thing once and when it is first asked for: until when each
 * day was written, and how often the records of young animals leave gaps in stool and urine.
 * Gaps of the last week do not count, nor the animal's own: an outbreak cannot make itself
 * unseen.
 */
export function whatIsWritten(
  animals: readonly AnimalSeries[],
  settings: StudySettings,
  limits: RuleLimits,
): WhatIsWritten {
  let newest: ReadonlyMap<CivilDate, number> | null = null;
  const counted = new Map<Excretion, AllCounted>();
  const countedOf = (kind: Excretion) => {
    const known =
      counted.get(kind) ??
      countedTogether(animals.map((a) => countGaps(a, settings, kind, limits)));
    counted.set(kind, known);
    return known;
  };
  return {
    until: (span) => {
      newest ??= newestByDay(animals, settings);
      return newest.get(span.day) ?? span.to;
    },
    habit: (kind, exceptId, day) => {
      // Of all animals less its own: those of many years are not gone through for every day.
      const before = numberOfDate(day) - 7;
      const { byId, days: all, gapDays, firstGaps } = countedOf(kind);
      const upTo = (days: readonly number[]) => lastUpTo(days, before) + 1;
      const own = byId.get(exceptId);
      const ownDays = own === undefined ? 0 : upTo(own.days);
      const ownGaps = ownDays === 0 ? 0 : own!.gaps[ownDays - 1]!;
      const days = upTo(all) - ownDays;
      const gaps = upTo(gapDays) - ownGaps;
      const withGaps = upTo(firstGaps) - (ownGaps > 0 ? 1 : 0);
      return { days, gapsPct: days === 0 ? null : (100 * gaps) / days, animals: withGaps };
    },
  };
}

function countedTogether(each: readonly Counted[]): AllCounted {
  const inOrder = (days: number[]) => days.sort((a, b) => a - b);
  const gapsOf = ({ days, gaps }: Counted) =>
    days.filter((_, i) => gaps[i]! > (i === 0 ? 0 : gaps[i - 1]!));
  return {
    byId: new Map(each.map((own) => [own.id, own])),
    days: inOrder(each.flatMap((own) => own.days)),
    gapDays: inOrder(each.flatMap(gapsOf)),
    firstGaps: inOrder(each.flatMap((own) => gapsOf(own).slice(0, 1))),
  };
}

const rowsOf = (a: AnimalSeries) => [a.feeds, a.sharedFeeds, a.weighings, a.signs];

function newestByDay(animals: readonly AnimalSeries[], settings: StudySettings) {
  const newest = new Map<CivilDate, number>();
  for (const rows of animals.flatMap(rowsOf))
    for (const { at } of rows) {
      const day = feedingDayOf(at, settings.zone, settings.feedingDayStartHour);
      if (at > (newest.get(day) ?? Number.NEGATIVE_INFINITY)) newest.set(day, at);
    }
  return newest;
}

/** Days of the young on which anything was written of it, from two days after admission on. */
function countGaps(
  series: AnimalSeries,
  settings: StudySettings,
  kind: Excretion,
  limits: RuleLimits,
): Counted {
  const { zone, feedingDayStartHour } = settings;
  const limitH = kind === "stool" ? limits.stoolH : limits.urineH;
  const from = series.animal.admittedAt ?? series.span?.from ?? null;
  const counted = { id: series.animal.animalId, days: [] as number[], gaps: [] as number[] };
  if (limitH === null || from === null) return counted;
  const seen = excretedAt(series, kind);
  const written = new Set<CivilDate>();
  const youngUntil = (series.age.birth ?? from) + limits.excretionUnderD * dayMs;
  // What is written of the older is most of a history, and none of their days is counted.
  const writtenWhenYoung = youngUntil + 2 * dayMs;
  for (const rows of rowsOf(series))
    for (const { at } of rows)
      if (at < writtenWhenYoung) written.add(feedingDayOf(at, zone, feedingDayStartHour));
  const start = addDays(feedingDayOf(from, zone, feedingDayStartHour), 2);
  let gaps = 0;
  for (const day of [...written].sort()) {
    if (day < start) continue;
    const span = feedingDaySpan(day, zone, feedingDayStartHour);
    if (span.from >= youngUntil) break;
    const since = seen[lastUpTo(seen, span.to - 1)] ?? from;
    if (span.to - since >= limitH * hourMs) gaps++;
    counted.days.push(numberOfDate(day));
    counted.gaps.push(gaps);
  }
  return counted;
}
