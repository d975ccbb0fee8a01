import type { WatchedAnimal } from "./watched-animal.js";

/** `lastAlike` for one reading of a group: the marks of a history share what they were made of. */
export function alikeOnce(): typeof lastAlike {
  const known = new Map<WatchedAnimal, number>();
  return (was, now) => {
    const day = known.get(was) ?? lastAlike(was, now);
    known.set(was, day);
    return day;
  };
}

/** Whether the watch would have come to the same end of a day with these animals instead. */
export function agrees(
  was: readonly WatchedAnimal[],
  animals: readonly WatchedAnimal[],
  day: number,
  alike: typeof lastAlike,
): boolean {
  const read = (all: readonly WatchedAnimal[]) => all.filter((a) => (a.day[0] ?? day + 1) <= day);
  const now = read(animals);
  const before = read(was);
  return (
    before.length === now.length &&
    before.every((a, i) => a.id === now[i]!.id && alike(a, now[i]!) >= day)
  );
}

/** The last day on which two readings of a group are the same; Infinity where nothing differs. */
export function agreedUpTo(
  was: readonly WatchedAnimal[],
  animals: readonly WatchedAnimal[],
): number {
  const [old, young] = [byIdOf(was), byIdOf(animals)];
  const common = was.filter((a) => young.has(a.id));
  if (animals.filter((a) => old.has(a.id)).some((a, i) => a.id !== common[i]!.id))
    return Number.NEGATIVE_INFINITY;
  let day = Number.POSITIVE_INFINITY;
  for (const a of was) day = Math.min(day, lastAlike(a, young.get(a.id)));
  for (const b of animals) if (!old.has(b.id)) day = Math.min(day, lastAlike(b, undefined));
  return day;
}

const byIdOf = (animals: readonly WatchedAnimal[]) => new Map(animals.map((a) => [a.id, a]));
const dayBefore = (a: WatchedAnimal | undefined, j: number) =>
  (a?.day[j] ?? Number.POSITIVE_INFINITY) - 1;

/** The last day on which two records of an animal say the same; where there is but one, that before it. */
function lastAlike(a: WatchedAnimal, b: WatchedAnimal | undefined): number {
  if (a === b) return Number.POSITIVE_INFINITY;
  if (b === undefined || !isSameAnimal(a, b)) return Math.min(dayBefore(a, 0), dayBefore(b, 0));
  const n = Math.min(a.day.length, b.day.length);
  let j = 0;
  while (j < n && isSameValue(a, b, j)) j++;
  const alike = Math.min(dayBefore(a, j), dayBefore(b, j));
  const ends = [a.ended?.day, b.ended?.day].map((d) => d ?? Number.POSITIVE_INFINITY);
  const ended = Math.min(...ends);
  if (!(ended < alike)) return alike;
  // An end is known from the day after it on.
  const endsAlike =
    ends[0] === ends[1] &&
    isLast(a, ended) === isLast(b, ended) &&
    a.ended!.serves.subarray(0, j).every((v, i) => v === b.ended!.serves[i]);
  return endsAlike ? alike : ended;
}

function isSameAnimal(a: WatchedAnimal, b: WatchedAnimal): boolean {
  const reliable = (x: WatchedAnimal) => x.ageReliable !== false;
  return (a.season ?? null) === (b.season ?? null) && reliable(a) === reliable(b);
}

const isSameValue = (a: WatchedAnimal, b: WatchedAnimal, j: number) =>
  a.time[j] === b.time[j] &&
  a.day[j] === b.day[j] &&
  a.logMass[j] === b.logMass[j] &&
  a.knownVariance[j] === b.knownVariance[j] &&
  a.serves[j] === b.serves[j] &&
  (a.anew?.[j] ?? 0) === (b.anew?.[j] ?? 0);

const isLast = (a: WatchedAnimal, day: number) => (a.day.at(-1) ?? day) <= day;
