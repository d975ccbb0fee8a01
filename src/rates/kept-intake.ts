import type { AnimalSeries, Instant, SeriesFeed } from "../series/animal-series.js";
import { firstAfter } from "../series/rows-between.js";
import { mayBePresent, type Sign } from "../series/signs/sign.js";
import { hourMs } from "../units/hour-ms.js";
import { type Bounds, between } from "./bounds.js";

/** What was eaten over a stretch, what of it came up again, and what was kept. */
export interface KeptIntake {
  /** g; for appetite, for whether an order was kept, and for overfeeding. */
  readonly eatenG: Bounds;
  /** g; where it was not weighed, from none to all that was eaten in the 6 h before. */
  readonly cameUpG: Bounds;
  /** g; for growth, energy and conversion. */
  readonly keptG: Bounds;
  /** Lines that tell of something that came up; one in doubt counts from none on. */
  readonly times: number;
}

/** One line that tells of something that came up, and what it may have brought up of each feed. */
export interface CameUp {
  readonly at: Instant;
  readonly of: readonly {
    readonly feed: SeriesFeed;
    readonly leastG: number;
    readonly mostG: number;
  }[];
}

/** A meal is taken to have left the stomach after so long (common practice). */
const upToH = 6;

/**
 * Eaten and kept over a stretch `(from, to]`. A millilitre that came up counts as a
 * gram. What several lines brought up together never exceeds what was eaten before it.
 *
 * @returns grams, as bounds: a refusal left blank and an amount not weighed widen them.
 * @example keptIntake(series, from, to).keptG // { low: 380, high: 460, value: null }
 */
export function keptIntake(series: AnimalSeries, from: Instant, to: Instant): KeptIntake {
  const fed = rowsAfter(series.feeds, from, to);
  const eatenG = between(
    fed.reduce((sum, f) => sum + f.eatenLowG, 0),
    fed.reduce((sum, f) => sum + f.eatenHighG, 0),
  );
  const lines = cameUpOf(series).filter((line) => line.at > from && line.at <= to);
  const up = amountOf(lines);
  const cameUpG = between(Math.min(up.low, eatenG.high!), Math.min(up.high!, eatenG.high!));
  return { eatenG, cameUpG, keptG: keptOf(eatenG, cameUpG), times: lines.length };
}

/**
 * Every line of what came up, in order of time. An amount that was weighed is taken from
 * the feeds of the 6 h before it alike; one that was not is none of them, or all that
 * no line before it brought up already.
 *
 * @example cameUpOf(series)[0]?.of[0]?.mostG // 40
 */
export function cameUpOf(series: AnimalSeries): readonly CameUp[] {
  const signs = series.signs.filter(tellsOfIt);
  if (signs.length === 0) return [];
  const taken = { least: new Map<SeriesFeed, number>(), most: new Map<SeriesFeed, number>() };
  return [...signs]
    .sort((a, b) => a.at - b.at)
    .map((sign) => {
      const feeds = rowsAfter(series.feeds, sign.at - upToH * hourMs, sign.at).filter(
        (f) => f.eatenHighG > 0,
      );
      // Grams beside another kind (of stool, of fluids) are not those of what came up.
      const weighed = isOfItsKind(sign) ? (sign.amount?.value ?? null) : null;
      const least = take(taken.least, feeds, weighed === null || !sign.sure ? 0 : weighed);
      const most = take(taken.most, feeds, weighed ?? Number.POSITIVE_INFINITY);
      return {
        at: sign.at,
        of: feeds.map((feed, i) => ({ feed, leastG: least[i]!, mostG: most[i]! })),
      };
    });
}

/**
 * What lines brought up, as bounds: g, or another quantity by what a gram of a feed
 * holds of it (null: not known, nothing limits it above).
 */
export function amountOf(
  lines: readonly CameUp[],
  per: (feed: SeriesFeed) => number | null = () => 1,
): Bounds {
  let low = 0;
  let high: number | null = 0;
  for (const { feed, leastG, mostG } of lines.flatMap((line) => line.of)) {
    const factor = per(feed);
    low += leastG * (factor ?? 0);
    if (mostG > 0) high = high === null || factor === null ? null : high + mostG * factor;
  }
  return between(low, high);
}

/** Eaten less what came up. @example keptOf(known(200), between(0, 80)) // { low: 120, high: 200, value: null } */
export function keptOf(eaten: Bounds, cameUp: Bounds): Bounds {
  const low = cameUp.high === null ? 0 : Math.max(0, eaten.low - cameUp.high);
  return between(low, eaten.high === null ? null : Math.max(0, eaten.high - cameUp.low));
}

/** What is kept is known well enough to set gain against it up to this width, as a share of it. */
export const keptKnownTo = 0.15;

/**
 * Whether what came up leaves what was kept known to within 15 %: only then is gain set
 * against it. A refusal left blank is no part of this: it widens what was eaten.
 *
 * @example keptIsKnown(known(1000), between(0, 80)) // true
 */
export function keptIsKnown(eaten: Bounds, cameUp: Bounds): boolean {
  if (cameUp.high === 0) return true;
  if (cameUp.high === null) return false;
  const least = 1 - Math.min(1, cameUp.high / Math.max(eaten.low, 1e-9));
  const most = 1 - cameUp.low / Math.max(eaten.high ?? eaten.low, 1e-9);
  return most - least <= keptKnownTo * most;
}

/** The feeds of `(from, to]`. */
const rowsAfter = (feeds: readonly SeriesFeed[], from: Instant, to: Instant) =>
  feeds.slice(firstAfter(feeds, from), firstAfter(feeds, to));

function tellsOfIt(sign: Sign): boolean {
  if (isOfItsKind(sign)) return mayBePresent(sign);
  return sign.findings.includes("vomit") || sign.findings.includes("regurgitation");
}

function isOfItsKind(sign: Sign): boolean {
  return sign.kind === "vomit" || sign.kind === "regurgitation";
}

/** Takes up to `grams` of what is left of feeds, from each alike, and remembers it. */
function take(
  taken: Map<SeriesFeed, number>,
  feeds: readonly SeriesFeed[],
  grams: number,
): readonly number[] {
  const left = feeds.map((f) => Math.max(0, f.eatenHighG - (taken.get(f) ?? 0)));
  const all = left.reduce((sum, g) => sum + g, 0);
  const share = all > 0 ? Math.min(1, grams / all) : 0;
  return feeds.map((f, i) => {
    const own = left[i]! * share;
    taken.set(f, (taken.get(f) ?? 0) + own);
    return own;
  });
}
