import { describe, expect, it } from "vitest";
import { type Random, seededRandom } from "../../src/core/random.js";
import { runSteps } from "../../src/core/steps.js";
import { type WatchedAnimal, watchOn } from "../../src/flags/watch/watch-group.js";
import type { WatchHistory } from "../../src/flags/watch/watch-history.js";
import { designs, simulateCohort } from "../bench/simulated-cohorts.js";

/**
 * No outside source: a cold run is the measure. Two invented seasons with everything in
 * them that the watch knows: gaps, values that do not serve, a level that starts anew,
 * records that end (after which other values serve), one weighed after it left. Seed 71.
 */
function twoSeasons(): WatchedAnimal[] {
  const random = seededRandom(71);
  return [0, 1].flatMap((season) => {
    const { animals } = simulateCohort(
      { ...designs["everything"]!, animals: 3, days: 16 },
      random.split(season),
    );
    return animals.map((a, i): WatchedAnimal => {
      const day = a.day.map((d) => d + 14 * season);
      const last = day.at(-1)!;
      return {
        ...a,
        id: `${season}${i}`,
        season: `${season}`,
        day,
        serves: a.serves.map((v, j) => (i === 1 && j % 4 === 2 ? 0 : v)),
        anew: Uint8Array.from(day, (_, j) => (i === 2 && j === 8 ? 1 : 0)),
        ended:
          season === 1
            ? null
            : { day: i === 0 ? last - 2 : last, serves: a.serves.map((v, j) => (j > 9 ? 0 : v)) },
      };
    });
  });
}

/** The animals as their records stood at the end of a day. */
function upTo(animals: readonly WatchedAnimal[], onDay: number): WatchedAnimal[] {
  return animals.map((a) => {
    const n = a.day.filter((d) => d <= onDay).length;
    return {
      ...a,
      time: a.time.subarray(0, n),
      day: a.day.subarray(0, n),
      logMass: a.logMass.subarray(0, n),
      knownVariance: a.knownVariance.subarray(0, n),
      serves: a.serves.subarray(0, n),
      anew: a.anew!.subarray(0, n),
      ended: a.ended != null && a.ended.day <= onDay ? a.ended : null,
    };
  });
}

/** Everything that the watch of a day says, to the last bit: JSON writes numbers that can be read back. */
function watchedOn(
  history: WatchHistory | "begin" | null,
  animals: readonly WatchedAnimal[],
  onDay: number,
) {
  const said: unknown[] = [];
  const states: unknown[] = [];
  const days = watchOn(
    history,
    upTo(animals, onDay),
    onDay,
    {
      expectFromDay: onDay,
      seeUnweighed: (u, state) => said.push([u, state.variation, state.expectedGain(20)]),
    },
    (seen, state) => {
      said.push([seen, state.variation, state.expectedGain(20), state.animals, state.borrowed]);
      states.push(state);
    },
  );
  const watch = runSteps(days);
  return { text: JSON.stringify(said), states, history: watch.history };
}

/** Some different days in random order. */
function randomDays(count: number, below: number, random: Random): number[] {
  const days = Array.from({ length: below }, (_, d) => d);
  return Array.from({ length: count }, () => days.splice(random.below(days.length), 1)[0]!);
}

describe("a watch that goes on from where it stood", () => {
  const animals = twoSeasons();
  const lastDay = Math.max(...animals.flatMap((a) => [...a.day]));
  const cold = new Map<number, string>();
  const coldOn = (day: number) => {
    const known = cold.get(day) ?? watchedOn(null, animals, day).text;
    cold.set(day, known);
    return known;
  };

  it("says in 100 random orders of days what cold runs say, bit for bit", () => {
    const random = seededRandom(72);
    for (let order = 0; order < 100; order++) {
      let history: WatchHistory | "begin" = "begin";
      for (const day of randomDays(3, lastDay + 1, random.split(order))) {
        const warm = watchedOn(history, animals, day);
        expect(warm.text === coldOn(day), `order ${order}, day ${day}`).toBe(true);
        history = warm.history ?? history;
      }
    }
  });

  it("takes one step for the next day: what was seen before is not worked out again", () => {
    const first = watchedOn("begin", animals, lastDay - 1);
    const next = watchedOn(first.history, animals, lastDay);
    expect(next.text).toBe(coldOn(lastDay));
    expect(first.states.length).toBeGreaterThan(40);
    for (let i = 0; i < first.states.length; i++) expect(next.states[i]).toBe(first.states[i]);
  });

  it("does not move when the future does, on a warm history either", () => {
    const { history } = watchedOn("begin", animals, lastDay);
    for (const cut of [9, 17, lastDay - 2]) {
      const changed = animals.map((a) => ({
        ...a,
        logMass: a.logMass.map((v, j) => (a.day[j]! > cut ? v - 0.7 : v)),
        serves: a.serves.map((v, j) => (a.day[j]! > cut ? 1 - v : v)),
      }));
      expect(watchedOn(history, changed, cut).text).toBe(coldOn(cut));
      // And the changed days themselves are those of the changed records.
      expect(watchedOn(history, changed, lastDay).text).toBe(
        watchedOn(null, changed, lastDay).text,
      );
    }
  });

  it("goes on from no mark that a changed record contradicts", () => {
    const { history } = watchedOn("begin", animals, lastDay);
    const of = (id: string, change: (a: WatchedAnimal) => WatchedAnimal) =>
      animals.map((a) => (a.id === id ? change(a) : a));
    const all: Record<string, WatchedAnimal[]> = {
      "an early mass": of("00", (a) => ({
        ...a,
        logMass: a.logMass.map((v, j) => (j === 1 ? v + 0.01 : v)),
      })),
      "an age": of("01", (a) => ({ ...a, time: a.time.map((t) => t + 0.5) })),
      "an end": of("01", (a) => ({ ...a, ended: null })),
      "who serves after an end": of("02", (a) => ({
        ...a,
        ended: { ...a.ended!, serves: a.serves.map((v, j) => (j > 5 ? 0 : v)) },
      })),
      "a season": of("00", (a) => ({ ...a, season: "other" })),
      "one animal fewer": animals.filter((a) => a.id !== "02"),
      "the order of animals": animals.slice().reverse(),
    };
    for (const [what, changed] of Object.entries(all))
      expect(
        watchedOn(history, changed, lastDay).text === watchedOn(null, changed, lastDay).text,
        what,
      ).toBe(true);
  });
});
