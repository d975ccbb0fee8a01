import { dayMs } from "../units/day-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import type { Instant, SeriesFeed, SuspectedFeedSlip } from "./animal-series.js";
import { exchangedFeed, refusedMoreThanOffered } from "./exchanged-feed.js";
import { type FeedSlipCandidate, feedSlipCandidates } from "./feed-slip-candidates.js";
import { suspectedFeed } from "./suspected-feed.js";
import { ALIKE, EACH_SIDE, type UsualFeed, usualByOrder, usualFeed } from "./usual-feed.js";

/** What is needed of one animal to judge its feeds. */
export interface AnimalFeeds {
  readonly animalId: string;
  /** In order of time; asked for more than once. */
  readonly feeds: () => readonly SeriesFeed[];
  /** Net mass that stands at an instant, g; null where none is known. */
  readonly massAt: (at: Instant) => number | null;
  /** Grams a feed ordered of a diet at an instant, every row in force. */
  readonly orderedG: (dietId: string | null, at: Instant) => readonly number[];
}

/** A feed is doubted beyond this ratio to the usual one, and beyond six of the animal's own spreads. */
const LEAST_RATIO = Math.log(1.8);
const SPREADS = 6;
/** From this ratio on one other feed like it does not make it usual: a slip may be made twice. */
const FAR_RATIO = Math.log(3);
/** Shares of body mass beyond which a feed is asked about whatever is usual, and cannot be true. */
const LARGE_SHARE = 0.15;
const IMPOSSIBLE_SHARE = 0.3;
const TINY_SHARE = 0.0005;
/** Same amount again within these minutes, where feeds are never so near one another. */
const TWICE_MS = 20 * minuteMs;
/** A feed that another animal missed lies within this of it. */
const ROUND_MS = 45 * minuteMs;

/**
 * Looks through every animal's feeds for slips of the pen: against its own feeds
 * of the same diet, its mass and its order. A feed as ordered, or like others
 * near it, is not doubted; one far off and alone is, and is tried with every
 * known kind of slip. Nothing is changed: what was eaten is then a range over
 * everything that may have been meant. Bounds are working values of this project.
 *
 * Returns, by animal and by the place among its feeds, the doubted feeds only.
 */
export function findFeedSlips(
  animals: readonly AnimalFeeds[],
): ReadonlyMap<string, ReadonlyMap<number, SuspectedFeedSlip>> {
  const diets = new Map<string | null, DietFeeds[]>();
  const found = new Map<string, Map<number, SuspectedFeedSlip>>();
  /** Places of feeds of which more is written as refused than as offered. */
  const backwards = new Map<AnimalFeeds, readonly number[]>();
  const all = animals.flatMap((animal) => {
    found.set(animal.animalId, new Map());
    return byDiet(animal, (place) => {
      backwards.set(animal, [...(backwards.get(animal) ?? []), place]);
    });
  });
  for (const list of all) {
    const same = diets.get(list.dietId);
    if (same === undefined) diets.set(list.dietId, [list]);
    else same.push(list);
  }
  for (const list of all) {
    const others = diets.get(list.dietId)!.filter((o) => o !== list);
    list.places.forEach((place, i) => {
      const slip = judge(list, i, others);
      if (slip !== null) found.get(list.animal.animalId)!.set(place, slip);
    });
  }
  for (const animal of animals)
    for (const place of backwards.get(animal) ?? [])
      found.get(animal.animalId)!.set(place, exchangedIn(all, animal, animal.feeds()[place]!));
  return found;
}

/** More refused than offered: held against the feeds of this diet around it, else the order. */
function exchangedIn(
  all: readonly DietFeeds[],
  animal: AnimalFeeds,
  feed: SeriesFeed,
): SuspectedFeedSlip {
  const own = all.find((list) => list.animal === animal && list.dietId === feed.dietId);
  const log = Math.log(feed.row.refusedG!);
  const at = firstFrom(own?.at ?? [], feed.at);
  const usual =
    usualFeed(own?.logs ?? [], at, at, log) ??
    usualByOrder(animal.orderedG(feed.dietId, feed.at), log);
  return exchangedFeed(feed, usual, animal.massAt(feed.at));
}

/** The feeds of one diet to one animal. */
interface DietFeeds {
  readonly animal: AnimalFeeds;
  readonly dietId: string | null;
  /** Where each stands among all feeds of the animal. */
  readonly places: readonly number[];
  readonly at: readonly number[];
  readonly offeredG: readonly number[];
  readonly refusedG: readonly (number | null)[];
  /** Logarithm of what was offered. */
  readonly logs: readonly number[];
  /** Whether this animal is sometimes given this diet twice within minutes. */
  readonly givenInParts: boolean;
}

function byDiet(animal: AnimalFeeds, isBackwards: (place: number) => void): DietFeeds[] {
  const lists = new Map<string | null, number[]>();
  const all = animal.feeds();
  for (const [place, feed] of all.entries()) {
    const backwards = refusedMoreThanOffered(feed);
    // Of these one number is wrong whatever is usual: they are looked at apart.
    if (backwards) isBackwards(place);
    // Nothing offered is no slip, and a supplement is a pinch.
    if (backwards || !(feed.offeredG > 0) || feed.composition?.kind === "supplement") continue;
    const list = lists.get(feed.dietId);
    if (list === undefined) lists.set(feed.dietId, [place]);
    else list.push(place);
  }
  return [...lists].map(([dietId, places]) => {
    const feeds = places.map((place) => all[place]!);
    let near = 0;
    for (let i = 1; i < feeds.length; i++) if (feeds[i]!.at - feeds[i - 1]!.at <= TWICE_MS) near++;
    return {
      animal,
      dietId,
      places,
      at: feeds.map((f) => f.at),
      offeredG: feeds.map((f) => f.offeredG),
      refusedG: feeds.map((f) => f.row.refusedG),
      logs: feeds.map((f) => Math.log(f.offeredG)),
      givenInParts: near > Math.max(2, 0.05 * feeds.length),
    };
  });
}

function judge(list: DietFeeds, i: number, others: readonly DietFeeds[]): SuspectedFeedSlip | null {
  const { animal, logs } = list;
  const [at, offeredG] = [list.at[i]!, list.offeredG[i]!];
  const feed = () => animal.feeds()[list.places[i]!]!;
  const share = shareOfMass(animal, at, offeredG);
  const outOfBounds = share !== null && (share > LARGE_SHARE || share < TINY_SHARE);
  if (isTwice(list, i))
    return slipOf(feed(), { kind: "entered twice", usualG: offeredG, share, best: null });
  const owner = feedOfAnother(list, i, others);
  if (owner !== null)
    return slipOf(feed(), {
      kind: "wrong animal",
      usualG: offeredG,
      share,
      best: null,
      other: owner,
    });
  if (!outOfBounds && isLikeThoseBeside(logs, i)) return null;
  const ordered = animal.orderedG(list.dietId, at);
  const asOrdered = ordered.some((g) => Math.abs(logs[i]! - Math.log(g)) < ALIKE);
  if (asOrdered && !outOfBounds) return null;
  const usual = usualAround(list, i) ?? usualByOrder(ordered, logs[i]!);
  if (!outOfBounds && (usual === null || !isFarOff(usual, logs[i]!))) return null;
  const usualG = usual === null || isOwn(usual, logs[i]!) ? null : Math.exp(usual.log);
  const other = usualG === null ? null : missingFrom(others, at, logs[i]!);
  if (other !== null)
    return slipOf(feed(), { kind: "wrong animal", usualG, share, best: null, other });
  const candidates =
    usualG === null ? [] : feedSlipCandidates(offeredG, usualG, feedsADay(list, i));
  const best = candidates[0] ?? null;
  return slipOf(feed(), { kind: best?.kind ?? "unexplained", usualG, share, best });
}

function shareOfMass(animal: AnimalFeeds, at: Instant, offeredG: number): number | null {
  const mass = animal.massAt(at);
  return mass === null ? null : offeredG / mass;
}

/** Like both feeds beside it: the common case, decided without looking further. */
function isLikeThoseBeside(logs: readonly number[], i: number): boolean {
  // Beyond either end stands nothing, which is like nothing.
  const like = (k: number) => Math.abs(logs[k]! - logs[i]!) < ALIKE;
  return (like(i - 1) && (like(i + 1) || like(i - 2))) || (like(i + 1) && like(i + 2));
}

const usualAround = ({ logs }: DietFeeds, i: number) => usualFeed(logs, i, i + 1, logs[i]!);

function isFarOff(usual: UsualFeed, log: number): boolean {
  const off = Math.abs(log - usual.log);
  if (off < Math.max(LEAST_RATIO, SPREADS * usual.spread)) return false;
  return usual.alike === 0 || (usual.alike === 1 && off >= FAR_RATIO);
}

const isOwn = (usual: UsualFeed, log: number) => Math.abs(usual.log - log) < ALIKE;

function isTwice({ at, refusedG, logs, givenInParts }: DietFeeds, i: number): boolean {
  const before = at[i - 1];
  return (
    !givenInParts &&
    before !== undefined &&
    at[i]! - before <= TWICE_MS &&
    logs[i] === logs[i - 1] &&
    refusedG[i] === refusedG[i - 1]
  );
}

/**
 * Two feeds of one diet within minutes, where this animal has one at a time, and
 * another animal has none in this round: the one that is more like the other's
 * usual feed may be the other's.
 */
function feedOfAnother(list: DietFeeds, i: number, others: readonly DietFeeds[]): string | null {
  const { logs, givenInParts } = list;
  const at = list.at[i]!;
  const near = (other: Instant | undefined) =>
    other !== undefined && Math.abs(other - at) <= TWICE_MS;
  const close = near(list.at[i - 1]) || near(list.at[i + 1]);
  if (!close || givenInParts) return null;
  const own = usualAround(list, i);
  if (own === null) return null;
  const away = Math.abs(own.log - logs[i]!);
  const nearer = others.filter((other) => {
    const usual = usualAround(other, firstFrom(other.at, at));
    return usual !== null && Math.abs(usual.log - logs[i]!) < away;
  });
  return missingFrom(nearer, at, logs[i]!);
}

/** Feeds of this diet in a day around here. */
function feedsADay({ at }: DietFeeds, i: number): number | null {
  const from = Math.max(0, i - EACH_SIDE);
  const to = Math.min(at.length - 1, i + EACH_SIDE);
  const days = (at[to]! - at[from]!) / dayMs;
  return days < 0.5 ? null : Math.round((to - from) / days);
}

/** An animal whose usual feed this is, and that has none of its own, or a strange one, at this round. */
function missingFrom(others: readonly DietFeeds[], at: Instant, log: number): string | null {
  for (const other of others) {
    const k = firstFrom(other.at, at);
    const usual = usualAround(other, Math.min(k, other.at.length - 1));
    if (usual === null || Math.abs(usual.log - log) >= ALIKE / 2) continue;
    const near = [k - 1, k].filter((j) => {
      const own = other.at[j];
      return own !== undefined && Math.abs(own - at) <= ROUND_MS;
    });
    const reach = other.at[k - 1] !== undefined && other.at[k] !== undefined;
    const strange = near.some((j) => isFarOff({ ...usual, alike: 0 }, other.logs[j]!));
    if ((near.length === 0 && reach) || strange) return other.animal.animalId;
  }
  return null;
}

function firstFrom(instants: readonly Instant[], at: Instant): number {
  let low = 0;
  let high = instants.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (instants[middle]! < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The slip with the bounds of what was eaten, over everything that may have been meant. */
function slipOf(
  feed: SeriesFeed,
  of: {
    readonly kind: SuspectedFeedSlip["kind"];
    readonly usualG: number | null;
    readonly share: number | null;
    readonly best: FeedSlipCandidate | null;
    readonly other?: string;
  },
): SuspectedFeedSlip {
  const { kind, usualG, share, best } = of;
  const refused = feed.eatenG === null ? null : feed.offeredG - feed.eatenG;
  const eaten = (offered: number, factor = 1): [number, number] => [
    refused === null ? 0 : Math.max(0, offered - factor * refused),
    refused === null ? offered : Math.max(0, offered - factor * refused),
  ];
  const possible = share === null || (share <= IMPOSSIBLE_SHARE && share >= TINY_SHARE);
  const suggestedG = best?.offeredG ?? null;
  const meanings = [
    ...(possible ? eaten(feed.offeredG) : [0]),
    ...(suggestedG === null ? [] : eaten(suggestedG, best!.factor)),
    ...(suggestedG === null && usualG !== null ? eaten(usualG) : []),
    // Of a feed written twice, or under the wrong animal, nothing may have been eaten.
    ...(kind === "entered twice" || kind === "wrong animal" || usualG === null ? [0] : []),
  ];
  return suspectedFeed(feed, {
    kind,
    suggestedG,
    usualG,
    massPct: share === null ? null : 100 * share,
    eatenLowG: Math.min(...meanings),
    eatenHighG: Math.max(...meanings),
    otherAnimalId: of.other ?? null,
  });
}
