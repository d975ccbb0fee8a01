import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { median } from "../stats/descriptive/median.js";
import { toLocal } from "../units/calendar.js";
import { hourMs } from "../units/hour-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import { compareWithPlan, type PlanComparison } from "./rhythm-against-plan.js";
import { usableFeeds } from "./usable-feeds.js";

export interface RhythmOptions {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  readonly profile?: SpeciesProfile;
  /** Only feeds in [from, to]. Default: all. */
  readonly from?: number;
  readonly to?: number;
  /** Feeds this near to each other are one meal, min. Default 30. */
  readonly sameMealMin?: number;
  /** A feed this long after its time is late, min. Default 30. */
  readonly lateMin?: number;
}

export interface FeedingInterval {
  readonly from: number;
  readonly to: number;
  readonly hours: number;
}

export interface RhythmAtHour {
  /** Local clock hour in which the interval begins. */
  readonly hour: number;
  readonly n: number;
  readonly medianH: number | null;
  readonly longestH: number | null;
}

/** A feed of formula older than its use-by hours. */
export interface OldFormulaFeed {
  readonly at: number;
  readonly feedingDay: CivilDate;
  readonly batchId: string | null;
  readonly ageH: number;
  readonly useByH: number;
  /** Whether the limit is the diet's or batch's own, or common practice. */
  readonly limitFrom: "records" | "common practice";
}

export interface FeedingRhythm {
  readonly animalId: string;
  readonly meals: number;
  readonly medianIntervalH: number | null;
  /** 24 rows, hour 0 to 23. */
  readonly byHour: readonly RhythmAtHour[];
  readonly longestGap: FeedingInterval | null;
  /** Longest interval whose middle lies between 22:00 and 06:00. */
  readonly longestNightGap: FeedingInterval | null;
  readonly againstPlan: PlanComparison;
  readonly oldFormula: readonly OldFormulaFeed[];
}

/**
 * Feeding rhythm of one animal: intervals between meals in real hours (a clock
 * change makes no night shorter), by the hour in which they begin; the longest
 * night gap; late and missed feeds against the plan, or failing that against the
 * species profile; formula older than its use-by hours at the feed.
 *
 * @example feedingRhythm(otter, { settings }).value.longestNightGap?.hours // 12.1
 */
export function feedingRhythm(
  series: AnimalSeries,
  options: RhythmOptions,
): Result<"feeding-rhythm", FeedingRhythm> {
  const { zone } = options.settings;
  const o = {
    sameMealMin: options.sameMealMin ?? 30,
    lateMin: options.lateMin ?? 30,
    from: options.from ?? null,
    to: options.to ?? null,
  };
  const profile =
    options.profile ?? profileOf(series.animal.species, options.settings.speciesOverrides);
  const usable = usableFeeds(series);
  const feeds = usable.feeds
    .filter((f) => (o.from === null || f.at >= o.from) && (o.to === null || f.at <= o.to))
    .map((f) => f.feed);
  const meals: number[] = [];
  for (const f of feeds) {
    const before = meals.at(-1);
    if (before === undefined || f.at - before > o.sameMealMin * minuteMs) meals.push(f.at);
  }
  const intervals: FeedingInterval[] = meals.slice(1).map((to, i) => {
    const from = meals[i]!;
    return { from, to, hours: (to - from) / hourMs };
  });
  const localHour = (at: number) => (((toLocal(at, zone) / hourMs) % 24) + 24) % 24;
  const byHour: RhythmAtHour[] = Array.from({ length: 24 }, (_, hour) => {
    const hours = intervals
      .filter((i) => Math.floor(localHour(i.from)) === hour)
      .map((i) => i.hours);
    return {
      hour,
      n: hours.length,
      medianH: median(hours),
      longestH: hours.length === 0 ? null : Math.max(...hours),
    };
  });
  const night = intervals.filter((i) => {
    const middle = localHour((i.from + i.to) / 2);
    return middle >= 22 || middle < 6;
  });
  const oldFormula = feeds.flatMap((f): OldFormulaFeed[] => {
    if (f.composition?.kind !== "formula" || f.batchAgeH === null) return [];
    const useByH = f.useByH ?? profile.formulaUseBy.value;
    if (f.batchAgeH <= useByH) return [];
    return [
      {
        at: f.at,
        feedingDay: f.feedingDay,
        batchId: f.row.batchId,
        ageH: f.batchAgeH,
        useByH,
        limitFrom: f.useByH === null ? "common practice" : "records",
      },
    ];
  });
  const animal = series.animal.animalId;
  const notices: Notice[] = [...usable.notices];
  if (oldFormula.length > 0) {
    const oldest = Math.max(...oldFormula.map((f) => f.ageH));
    notices.push(notice("rhythm-old-formula", "caution", { animal, n: oldFormula.length, oldest }));
  }
  const early = feeds.filter((f) => f.batchAgeH !== null && f.batchAgeH < 0);
  if (early.length > 0) {
    const first = early[0]!.at;
    notices.push(notice("rhythm-fed-before-made", "problem", { animal, n: early.length, first }));
  }
  return {
    kind: "feeding-rhythm",
    schema: 1,
    value: {
      animalId: animal,
      meals: meals.length,
      medianIntervalH: median(intervals.map((i) => i.hours)),
      byHour,
      longestGap: longestOf(intervals),
      longestNightGap: longestOf(night),
      againstPlan: compareWithPlan(series, feeds, meals, profile, {
        settings: options.settings,
        lateMin: o.lateMin,
      }),
      oldFormula,
    },
    method: { name: "Intervals between meals", options: o, citations: [] },
    basis: { used: feeds.length, leftOut: usable.leftOut, of: "feeds" },
    diagnostics: {},
    notices,
  };
}

function longestOf(intervals: readonly FeedingInterval[]): FeedingInterval | null {
  return intervals.reduce<FeedingInterval | null>(
    (best, i) => (best === null || i.hours > best.hours ? i : best),
    null,
  );
}
