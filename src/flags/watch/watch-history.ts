import { SlopeMixture } from "../../stats/state-space/slope-mixture.js";
import { RunningAnimal } from "./running-animal.js";
import { agreedUpTo, agrees, alikeOnce } from "./watch-agreement.js";
import type { WatchedAnimal } from "./watched-animal.js";
import type { WatchedDay, WatchState } from "./watched-day.js";
import { WatchedSeason } from "./watched-season.js";

/** What was seen of one animal on one day. */
export interface SeenDay {
  readonly id: string;
  readonly seen: WatchedDay;
  readonly state: WatchState;
}

/** How far the watch of a group has come: its animals as read so far, and its seasons. */
export interface WatchStanding {
  readonly works: readonly RunningAnimal[];
  readonly seasons: ReadonlyMap<string, WatchedSeason>;
}

/** Everything seen up to a mark: what is new since the one before it, and what it had. */
export interface SeenSoFar {
  readonly since: readonly SeenDay[];
  readonly before: SeenSoFar | null;
}

/** Where the watch stood at the end of a day, and everything seen on the way there. */
export interface WatchMark {
  readonly day: number;
  readonly standing: WatchStanding;
  readonly seen: SeenSoFar;
}

/**
 * What a watch hands back to be handed in again: marks from which it can go on. A mark
 * serves where nothing has changed up to its day, so that a history may be older, newer
 * or of another reading of the records, and what comes out is the same as without.
 */
export interface WatchHistory {
  /** The settings that the numbers hang on; marks of others do not serve. */
  readonly settings: string;
  /** In order of their days. */
  readonly marks: readonly WatchMark[];
}

/** A mark is kept at the end of every so many days, of the newest days, and of some others. */
const markEveryD = 16;
export const recentMarksD = 22;
const otherMarks = 32;

export const isGridDay = (day: number) => day % markEveryD === 0;

const marksOf = (history: WatchHistory | null, settings: string) =>
  history === null || history.settings !== settings ? [] : history.marks;

const sourcesOf = (mark: WatchMark) => mark.standing.works.map((w) => w.source);

/** Marks that the watch would come to with these animals too, by their day. */
export function marksThatAgree(
  history: WatchHistory | null,
  settings: string,
  animals: readonly WatchedAnimal[],
): ReadonlyMap<number, WatchMark> {
  const alike = alikeOnce();
  const agreeing = marksOf(history, settings).filter((mark) =>
    agrees(sourcesOf(mark), animals, mark.day, alike),
  );
  return new Map(agreeing.map((mark) => [mark.day, mark]));
}

/** What was seen up to a day, by its day. */
export interface KnownSoFar {
  readonly upTo: number;
  readonly byDay: ReadonlyMap<number, readonly SeenDay[]>;
}

/**
 * What a history tells of days up to `lastDay`: all that its furthest mark saw on days up to
 * which it was made of the same records, though later ones differ.
 */
export function knownSoFar(
  history: WatchHistory | null,
  settings: string,
  animals: readonly WatchedAnimal[],
  lastDay: number,
): KnownSoFar {
  let upTo = Number.NEGATIVE_INFINITY;
  let furthest: WatchMark | null = null;
  for (const mark of marksOf(history, settings).slice().reverse()) {
    if (mark.day <= upTo) continue;
    const day = Math.min(mark.day, agreedUpTo(sourcesOf(mark), animals));
    if (day > upTo) [upTo, furthest] = [day, mark];
  }
  upTo = Math.min(upTo, lastDay);
  const byDay = new Map<number, SeenDay[]>();
  for (const seen of furthest === null ? [] : seenUpTo(furthest)) {
    const { day } = seen.seen;
    if (day > upTo) break;
    const list = byDay.get(day);
    if (list === undefined) byDay.set(day, [seen]);
    else list.push(seen);
  }
  return { upTo, byDay };
}

/** The history with marks added: a new one of a day takes the place of an old one. */
export function withMarks(
  history: WatchHistory | null,
  settings: string,
  added: readonly WatchMark[],
): WatchHistory {
  const byDay = new Map<number, WatchMark>();
  if (history !== null && history.settings === settings)
    for (const mark of history.marks) byDay.set(mark.day, mark);
  for (const mark of added) {
    byDay.delete(mark.day);
    byDay.set(mark.day, mark);
  }
  // The newest of those that do not lie on the grid, by when they were made.
  const others = [...byDay.values()].filter((m) => !isGridDay(m.day)).slice(-otherMarks);
  const kept = [...byDay.values()].filter((m) => isGridDay(m.day) || others.includes(m));
  return { settings, marks: kept.sort((a, b) => a.day - b.day) };
}

/** A mark at the end of a day; a season that has not moved since the last mark shares its sums. */
export function markOf(
  day: number,
  standing: WatchStanding,
  since: readonly SeenDay[],
  before: WatchMark | null,
): WatchMark {
  const earlier = before?.standing.seasons;
  return {
    day,
    standing: apart(
      standing,
      standing.works.map((w) => w.source),
      (key, mixture) => {
        const known = earlier?.get(key)?.mixture;
        return known?.version === mixture.version ? known : copyOf(mixture);
      },
    ),
    seen: { since, before: before?.seen ?? null },
  };
}

/** The standing of a mark for these animals, to be gone on with: the mark itself stays. */
export function standingOf(mark: WatchMark, animals: readonly WatchedAnimal[]): WatchStanding {
  return apart(mark.standing, animals, (_, mixture) => copyOf(mixture));
}

/** Everything seen up to a mark, in order. */
function seenUpTo(mark: WatchMark): readonly SeenDay[] {
  const parts: (readonly SeenDay[])[] = [];
  for (let s: SeenSoFar | null = mark.seen; s !== null; s = s.before) parts.push(s.since);
  return parts.reverse().flat();
}

const copyOf = (mixture: SlopeMixture) => new SlopeMixture(mixture.prior, mixture);

function apart(
  { works, seasons }: WatchStanding,
  animals: readonly WatchedAnimal[],
  mixtureOf: (key: string, mixture: SlopeMixture) => SlopeMixture,
): WatchStanding {
  const was = new Map(works.map((w) => [w.source.id, w]));
  const copies = animals.map((a) => new RunningAnimal(a, was.get(a.id)));
  const byId = new Map(copies.map((w) => [w.source.id, w]));
  const copied = [...seasons].map(([key, season]) => {
    const copy = new WatchedSeason(mixtureOf(key, season.mixture), season.borrowed);
    copy.works.push(...season.works.map((w) => byId.get(w.source.id)!));
    return [key, copy] as const;
  });
  return { works: copies, seasons: new Map(copied) };
}
