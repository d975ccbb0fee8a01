import type { Random } from "../../src/core/random.js";
import type { SignalKind } from "../../src/flags/animal-day/signal.js";
import type { Replay } from "../../src/flags/replay.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries, SeriesFeed, StudySeries } from "../../src/series/animal-series.js";
import { daysBetween } from "../../src/units/calendar.js";

/** What happens to an animal from a given day on; its mass is left as it was. */
export const troubles = {
  "eats half, the rest refused": (f: SeriesFeed) => eaten(f, 0.5 * f.offeredG, f.offeredG),
  "eats 70 %, the rest refused": (f: SeriesFeed) => eaten(f, 0.7 * f.offeredG, f.offeredG),
  "is given half of its plan": (f: SeriesFeed) => eaten(f, 0.5 * f.offeredG, 0.5 * f.offeredG),
  "is given 70 % of its plan": (f: SeriesFeed) => eaten(f, 0.7 * f.offeredG, 0.7 * f.offeredG),
  "refuses everything": (f: SeriesFeed) => eaten(f, 0, f.offeredG),
  "is not fed": () => null,
} as const satisfies Record<string, (feed: SeriesFeed) => SeriesFeed | null>;
export type TroubleName = keyof typeof troubles;

const ofFeeding: readonly SignalKind[] = [
  "eaten below plan",
  "eaten below habit",
  "refusals",
  "no feed",
  "missed feed",
];

function eaten(feed: SeriesFeed, most: number, offeredG: number): SeriesFeed {
  const eatenG = Math.round(Math.min(feed.eatenLowG, most));
  const offered = Math.round(offeredG);
  return {
    ...feed,
    offeredG: offered,
    eatenG,
    eatenLowG: eatenG,
    eatenHighG: eatenG,
    row: { ...feed.row, offeredG: offered, refusedG: offered - eatenG },
  };
}

/**
 * One onset day for each animal, at least a week after its arrival phase and two
 * weeks before its record ends, never within the fast or in the 10 days before it,
 * and while it is fed by itself.
 */
export function onsetDays(study: StudySeries, healthy: Replay, random: Random) {
  const phases = new Map<string, { day: string; phase: string | null }[]>();
  for (const list of healthy.days)
    for (const a of list.animals) {
      const own = phases.get(a.animalId) ?? [];
      own.push({ day: a.day, phase: a.phase });
      phases.set(a.animalId, own);
    }
  return new Map(
    study.animals.flatMap((series) => {
      const own = phases.get(series.animal.animalId) ?? [];
      const firstShared = series.sharedFeeds[0]?.at ?? Number.POSITIVE_INFINITY;
      const possible = own.filter((d, i) => {
        const around = own.slice(Math.max(0, i - 8), i + 11);
        return (
          i >= 8 &&
          i + 14 < own.length &&
          around.every((x) => x.phase !== "arrival" && x.phase !== "post-weaning fast") &&
          Date.parse(d.day) + 12 * 86_400_000 < firstShared
        );
      });
      if (possible.length === 0) return [];
      const day = possible[random.below(possible.length)]!.day;
      return [[series.animal.animalId, day] as const];
    }),
  );
}

/** Days from onset until any rule of feeding was raised, animal by animal; null: not within 14 days. */
export function daysToDetection(
  study: StudySeries,
  onset: ReadonlyMap<string, string>,
  name: TroubleName,
): readonly { readonly days: number | null; readonly by: readonly SignalKind[] }[] {
  const change: (feed: SeriesFeed) => SeriesFeed | null = troubles[name];
  const animals = study.animals.map((series): AnimalSeries => {
    const from = onset.get(series.animal.animalId);
    if (from === undefined) return series;
    const feeds = series.feeds.flatMap((f) => {
      if (f.feedingDay < from) return [f];
      const changed = change(f);
      return changed === null ? [] : [changed];
    });
    return { ...series, feeds };
  });
  const replay = replayFlags({ ...study, animals });
  const found = new Map<string, { days: number; by: SignalKind[] }>();
  for (const list of replay.days)
    for (const a of list.animals) {
      const from = onset.get(a.animalId);
      if (from === undefined || a.day < from || found.has(a.animalId)) continue;
      const by = a.raised.map((s) => s.kind).filter((k) => ofFeeding.includes(k));
      if (by.length > 0) found.set(a.animalId, { days: daysBetween(from, a.day), by });
    }
  return [...onset.keys()].map((id) => {
    const f = found.get(id);
    return f === undefined || f.days > 14 ? { days: null, by: [] } : f;
  });
}

/** Median, 90th centile and shares found; an animal not found counts as infinitely late. */
export function summariseDelays(found: readonly { readonly days: number | null }[]) {
  const days = found.map((f) => f.days ?? Number.POSITIVE_INFINITY).sort((a, b) => a - b);
  const at = (q: number) => {
    const d = days[Math.min(days.length - 1, Math.floor(q * days.length))]!;
    return Number.isFinite(d) ? d : null;
  };
  const within = (n: number) =>
    Number((days.filter((d) => d <= n).length / days.length).toFixed(3));
  return {
    animals: days.length,
    medianDays: at(0.5),
    centile90Days: at(0.9),
    foundByDay2: within(2),
    foundByDay7: within(7),
    foundByDay14: within(14),
  };
}
