import { SlopeMixture } from "../../stats/state-space/slope-mixture.js";
import { RunningAnimal } from "./running-animal.js";
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

/** A mark is kept at the end of every so many days, and at so many other days. */
export const markEveryD = 32;
const otherMarks = 8;

/** The newest mark before a day that the animals' records agree with; null without one. */
export function markToGoOnFrom(
  history: WatchHistory | null,
  settings: string,
  animals: readonly WatchedAnimal[],
  beforeDay: number,
): WatchMark | null {
  if (history === null || history.settings !== settings) return null;
  for (const mark of history.marks.slice().reverse())
    if (mark.day < beforeDay && agrees(mark, animals)) return mark;
  return null;
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
  const others = [...byDay.values()].filter((m) => m.day % markEveryD !== 0).slice(-otherMarks);
  const kept = [...byDay.values()].filter((m) => m.day % markEveryD === 0 || others.includes(m));
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
export function seenUpTo(mark: WatchMark): readonly SeenDay[] {
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

/** Whether the watch would have come to the same mark with these animals. */
function agrees(mark: WatchMark, animals: readonly WatchedAnimal[]): boolean {
  const read = (all: readonly WatchedAnimal[]) => all.filter((a) => countUpTo(a, mark.day) > 0);
  const was = read(mark.standing.works.map((w) => w.source));
  const now = read(animals);
  return was.length === now.length && was.every((a, i) => isSameUpTo(a, now[i]!, mark.day));
}

function isSameUpTo(a: WatchedAnimal, b: WatchedAnimal, day: number): boolean {
  if (a === b) return true;
  const n = countUpTo(a, day);
  if (a.id !== b.id || n !== countUpTo(b, day)) return false;
  if ((a.season ?? null) !== (b.season ?? null)) return false;
  if ((a.ageReliable !== false) !== (b.ageReliable !== false)) return false;
  const ended = a.ended != null && a.ended.day < day ? a.ended : null;
  const endedToo = b.ended != null && b.ended.day < day ? b.ended : null;
  if (ended?.day !== endedToo?.day) return false;
  // Whether anything was weighed after the end decides if its filter was let go of.
  if (ended !== null && isLast(a, ended.day) !== isLast(b, ended.day)) return false;
  for (let j = 0; j < n; j++) {
    if (a.time[j] !== b.time[j] || a.day[j] !== b.day[j]) return false;
    if (a.logMass[j] !== b.logMass[j] || a.knownVariance[j] !== b.knownVariance[j]) return false;
    if (a.serves[j] !== b.serves[j] || (a.anew?.[j] ?? 0) !== (b.anew?.[j] ?? 0)) return false;
    if (ended?.serves[j] !== endedToo?.serves[j]) return false;
  }
  return true;
}

const isLast = (a: WatchedAnimal, day: number) => (a.day.at(-1) ?? day) <= day;

/** Values up to the end of a day. */
function countUpTo(a: WatchedAnimal, day: number): number {
  let low = 0;
  let high = a.day.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (a.day[middle]! <= day) low = middle + 1;
    else high = middle;
  }
  return low;
}
