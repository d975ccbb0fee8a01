import type { RunningAnimal } from "./running-animal.js";
import type { WatchStanding } from "./watch-history.js";
import type { WatchedAnimal } from "./watched-animal.js";
import type { Foreseen } from "./watched-day.js";
import type { WatchedSeason } from "./watched-season.js";

/** One weighing gives a mass to start from; the second says that it stands. */
const fewestForeseen = 2;

/**
 * The days from which courses are seen, each with the animals (by place) seen from there: an
 * animal's first weighing of the stretch, so that later ones do not bend what it was on
 * course for.
 */
export function courseDaysOf(
  animals: readonly WatchedAnimal[],
  fromDay: number,
  lastDay: number,
): ReadonlyMap<number, readonly number[]> {
  const found = new Map<number, number[]>();
  animals.forEach(({ day }, animal) => {
    let j = day.findIndex((d) => d >= fromDay);
    if (j < 0) return;
    j = Math.max(j, fewestForeseen - 1);
    const own = day[j];
    if (own === undefined || own > lastDay) return;
    const list = found.get(own);
    if (list === undefined) found.set(own, [animal]);
    else list.push(animal);
  });
  return new Map([...found].sort((a, b) => a[0] - b[0]));
}

/** What these animals were on course for as seen from where the watch stood, up to `lastDay`. */
export function coursesFrom(
  standing: WatchStanding,
  animals: readonly WatchedAnimal[],
  places: readonly number[],
  lastDay: number,
): Foreseen[] {
  const byId = new Map<string, { season: WatchedSeason; w: RunningAnimal }>();
  for (const season of standing.seasons.values())
    for (const w of season.works) byId.set(w.source.id, { season, w });
  return places.map((animal) => {
    const { season, w } = byId.get(animals[animal]!.id)!;
    const times = Array.from({ length: lastDay - w.lastDay + 1 }, (_, k) => w.lastTime + k);
    return { animal, day: w.lastDay, days: season.weighingsAhead(w, times) };
  });
}
