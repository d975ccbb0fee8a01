import { describe, expect, it } from "vitest";
import { between } from "../../src/rates/bounds.js";
import {
  amountOf,
  cameUpOf,
  keptIntake,
  keptIsKnown,
  keptOf,
} from "../../src/rates/kept-intake.js";
import type { AnimalSeries, SeriesFeed } from "../../src/series/animal-series.js";
import type { Sign } from "../../src/series/signs/sign.js";

/** Definition: what came up and was not weighed is none to all that was eaten in the 6 h before. */
const hour = 3_600_000;
const feed = (h: number, g: number, mostG = g) =>
  ({ at: h * hour, eatenLowG: g, eatenHighG: mostG }) as SeriesFeed;
const up = (h: number, more: Partial<Sign> = {}) =>
  ({
    kind: "vomit",
    at: h * hour,
    state: "present",
    sure: true,
    amount: null,
    findings: [],
    ...more,
  }) as unknown as Sign;
const grams = (value: number) => ({ amount: { value, unit: "g" as const } });
const of = (feeds: readonly SeriesFeed[], signs: readonly Sign[]) =>
  ({ feeds, signs }) as unknown as AnimalSeries;
const kept = (feeds: readonly SeriesFeed[], signs: readonly Sign[], from = 0, to = 24) => {
  const k = keptIntake(of(feeds, signs), from * hour, to * hour);
  const short = (b: { low: number; high: number | null }) => [b.low, b.high];
  return { eaten: short(k.eatenG), up: short(k.cameUpG), kept: short(k.keptG), times: k.times };
};

describe("what was kept", () => {
  it("is all that was eaten where nothing came up, from the begin on and with the end", () => {
    const feeds = [feed(0, 10), feed(1, 50), feed(24, 40, 60), feed(25, 70)];
    expect(kept(feeds, [])).toEqual({ eaten: [90, 110], up: [0, 0], kept: [90, 110], times: 0 });
  });

  it("is less by none to all of the six hours before, where it was not weighed", () => {
    const feeds = [feed(2, 30), feed(4, 40), feed(8, 50)];
    // At ten, the feed of four o'clock has left the stomach.
    expect(kept(feeds, [up(10)])).toEqual({
      eaten: [120, 120],
      up: [0, 50],
      kept: [70, 120],
      times: 1,
    });
    expect(kept(feeds, [up(9.99)]).up).toEqual([0, 90]);
    expect(kept(feeds, [up(8)]).up).toEqual([0, 90 + 0]);
    expect(kept(feeds, [up(7.99)]).up).toEqual([0, 70]);
  });

  it("is less by what was weighed, and never by more than was eaten", () => {
    const feeds = [feed(4, 30), feed(8, 60)];
    expect(kept(feeds, [up(9, grams(30))])).toMatchObject({ up: [30, 30], kept: [60, 60] });
    expect(kept(feeds, [up(9, grams(500))])).toMatchObject({ up: [90, 90], kept: [0, 0] });
    expect(kept([], [up(9, grams(30))])).toMatchObject({ up: [0, 0], kept: [0, 0], times: 1 });
    // An amount in doubt may have been none.
    expect(kept(feeds, [up(9, { ...grams(30), sure: false })]).up).toEqual([0, 30]);
  });

  it("of several lines never exceeds what was eaten before them", () => {
    const feeds = [feed(4, 40)];
    expect(kept(feeds, [up(5, grams(30)), up(6, grams(30))]).up).toEqual([40, 40]);
    expect(kept(feeds, [up(5), up(6)])).toMatchObject({ up: [0, 40], times: 2 });
    // In whatever order they stand.
    expect(kept([feed(4, 40), feed(5.5, 20)], [up(6), up(5, grams(30))]).up).toEqual([30, 60]);
  });

  it("counts what came up in the stretch alone, of feeds before it too, but not more than was eaten in it", () => {
    const feeds = [feed(-1, 80), feed(2, 30)];
    expect(kept(feeds, [up(3, grams(50))]).up).toEqual([30, 30]);
    expect(kept(feeds, [up(0, grams(50))])).toMatchObject({ up: [0, 0], times: 0 });
    expect(kept(feeds, [up(24, grams(9))], 0, 24).times).toBe(1);
    expect(kept(feeds, [up(24.01, grams(9))], 0, 24).times).toBe(0);
  });

  it("is told by vomit and regurgitation in any line, unless it says that there was none", () => {
    const feeds = [feed(8, 50)];
    const times = (more: Partial<Sign>) => kept(feeds, [up(9, more)]).times;
    expect(times({ kind: "regurgitation" })).toBe(1);
    expect(times({ state: "none" })).toBe(0);
    expect(times({ state: "unclear" })).toBe(1);
    expect(times({ kind: "note", findings: ["vomit"] })).toBe(1);
    expect(times({ kind: "note", findings: ["regurgitation"] })).toBe(1);
    expect(times({ kind: "note", findings: ["blood"] })).toBe(0);
    // Grams in a note are not those of what came up.
    expect(kept(feeds, [up(9, { kind: "stool", findings: ["vomit"], ...grams(7) })]).up).toEqual([
      0, 50,
    ]);
  });
});

describe("a line of what came up", () => {
  it("takes from each feed alike what was weighed, and leaves feeds of which nothing was eaten", () => {
    const [line] = cameUpOf(of([feed(4, 0), feed(5, 30), feed(8, 60)], [up(9, grams(30))]));
    expect(line!.at).toBe(9 * hour);
    expect(line!.of.map((o) => [o.feed.at / hour, o.leastG, o.mostG])).toEqual([
      [5, 10, 10],
      [8, 20, 20],
    ]);
    // The least is taken from what may have been eaten at most.
    const [blank] = cameUpOf(of([feed(8, 20, 60)], [up(9, grams(30))]));
    expect(blank!.of).toMatchObject([{ leastG: 30, mostG: 30 }]);
    expect(cameUpOf(of([feed(8, 20)], []))).toEqual([]);
  });

  it("in another quantity is by what a gram holds; unknown, nothing limits it", () => {
    const lines = cameUpOf(of([feed(5, 30), feed(8, 60)], [up(9)]));
    expect(amountOf(lines)).toMatchObject({ low: 0, high: 90 });
    expect(amountOf(lines, () => 2)).toMatchObject({ low: 0, high: 180 });
    expect(amountOf(lines, (f) => (f.at === 5 * hour ? null : 1)).high).toBeNull();
    expect(amountOf(lines, (f) => (f.at === 8 * hour ? null : 1)).high).toBeNull();
    const weighed = cameUpOf(of([feed(8, 60)], [up(9, grams(30))]));
    expect(amountOf(weighed, () => 2)).toMatchObject({ low: 60, high: 60 });
    expect(amountOf(weighed, () => null)).toMatchObject({ low: 0, high: null });
    // Nothing came up of it: its energy does not matter.
    const none = [{ at: 0, of: [{ feed: feed(8, 60), leastG: 0, mostG: 0 }] }];
    expect(amountOf(none, () => null)).toMatchObject({ low: 0, high: 0 });
  });
});

describe("eaten less what came up", () => {
  it("is never below nothing, and has no most where none is known", () => {
    const less = (a: [number, number | null], b: [number, number | null]) => {
      const k = keptOf(between(...a), between(...b));
      return [k.low, k.high];
    };
    expect(less([200, 220], [10, 80])).toEqual([120, 210]);
    expect(less([50, 60], [70, 80])).toEqual([0, 0]);
    expect(less([200, null], [10, 80])).toEqual([120, null]);
    expect(less([200, 220], [10, null])).toEqual([0, 210]);
  });

  it("is known well enough up to a width of 15 %", () => {
    const known = (up: [number, number | null], eaten: [number, number | null] = [1000, 1000]) =>
      keptIsKnown(between(...eaten), between(...up));
    expect(known([0, 149])).toBe(true);
    expect(known([0, 151])).toBe(false);
    // Of 80 % that was kept for sure, 15 % are 12.
    expect(known([200, 319])).toBe(true);
    expect(known([200, 321])).toBe(false);
    expect(known([0, null])).toBe(false);
    expect(known([0, 0], [0, 0])).toBe(true);
    expect(known([10, 2000])).toBe(false);
    // A refusal left blank is no part of it.
    expect(known([0, 0], [100, 1000])).toBe(true);
    expect(known([0, 100], [1000, null])).toBe(true);
  });
});
