import { describe, expect, it } from "vitest";
import type { LevelCase } from "../../../src/flags/levels/level-case.js";
import {
  bestLevel,
  fastReferences,
  settledReferences,
} from "../../../src/flags/levels/loss-references.js";
import type { DailyMass } from "../../../src/series/animal-series.js";

/** What a mass is held against, by the project's definition of a loss. */
const dayMs = 24 * 3_600_000;
/** Day 0 is 1 May 2025, noon. */
const noon = Date.UTC(2025, 4, 1, 12);
const on = (day: number, massG: number, more: Partial<DailyMass> = {}) =>
  ({
    feedingDay: new Date(noon + Math.floor(day) * dayMs).toISOString().slice(0, 10),
    at: noon + day * dayMs,
    massG,
    ageD: 30 + day,
    ...more,
  }) as DailyMass;
const along = (...masses: readonly number[]) => masses.map((g, i) => on(i, g));
const told = (before: readonly DailyMass[], day: number, since: number | null = null) =>
  settledReferences(before, noon + day * dayMs, since).map((r) => [r.from, r.massG]);

describe("a mass outside a fast is held against", () => {
  it("nothing where nothing was weighed before", () => {
    expect(settledReferences([], noon)).toEqual([]);
    expect(told(along(2000), 9, noon + dayMs)).toEqual([]);
  });

  it("the first, which is its admission, or its birth where it was born that day", () => {
    expect(settledReferences([on(0, 2000)], noon + 5 * dayMs)).toEqual([
      { from: "admission", massG: 2000, at: noon, ofThree: false },
    ]);
    expect(told([on(0, 2000, { ageD: 0.9 })], 5)).toEqual([["birth", 2000]]);
    expect(told([on(0, 2000, { ageD: 1 })], 5)).toEqual([["admission", 2000]]);
    expect(told([on(0, 2000, { ageD: null })], 5)).toEqual([["admission", 2000]]);
  });

  it("the first after a fast or moult that is over, and nothing before it", () => {
    const before = along(3000, 2900, 2000, 2010);
    expect(told(before, 10, noon + 2 * dayMs)).toEqual([["end of the fast", 2000]]);
    expect(told(before, 10, noon + 2 * dayMs + 1)).toEqual([["end of the fast", 2010]]);
  });

  it("the best level of the 14 days before", () => {
    const before = along(2000, 2100, 2200, 2300, 2100);
    expect(told(before, 16)).toContainEqual(["best of 14 days", 2200]);
    // The third of the three is 14 days old, then the second of them is older.
    expect(told(before, 16.01)).toEqual([["admission", 2000]]);
    expect(told(along(2000, 2100), 5)).toEqual([["admission", 2000]]);
  });

  it("each day of the two before, so that two small falls in a row are one", () => {
    expect(told(along(2000, 2100, 2050), 3)).toEqual([
      ["admission", 2000],
      ["best of 14 days", 2050],
      ["day before", 2100],
      ["day before", 2050],
    ]);
    // Two days and a quarter, since nobody weighs by the minute.
    const near = (d: number) =>
      told([on(-9, 1), on(0, 2100)], d).some(([from]) => from === "day before");
    expect(near(2.25)).toBe(true);
    expect(near(2.26)).toBe(false);
    // The first is admission, and told once.
    expect(told([on(0, 2100)], 1)).toEqual([["admission", 2100]]);
  });
});

describe("the best level", () => {
  it("is the largest median of three neighbours, dated by the middle one", () => {
    expect(bestLevel(along(2000, 2500, 2100, 2200, 2150))).toEqual({
      from: "best of 14 days",
      massG: 2200,
      at: noon + 2 * dayMs,
      ofThree: true,
    });
    expect(bestLevel(along(2000, 2100))).toBeNull();
    expect(bestLevel([])).toBeNull();
  });

  it("of equals is the first, and a lower one later does not replace it", () => {
    expect(bestLevel(along(2000, 2000, 2000, 2000))!.at).toBe(noon + dayMs);
    expect(bestLevel(along(2300, 2200, 2200, 2000, 1900))!.massG).toBe(2200);
  });

  it("is told by three that lie within six days", () => {
    expect(bestLevel([on(0, 2000), on(3, 2100), on(6, 2200)])!.massG).toBe(2100);
    expect(bestLevel([on(0, 2000), on(3, 2100), on(7, 2200)])).toBeNull();
    // A gap takes its own three out, not those after it.
    expect(
      bestLevel([on(0, 3000), on(5, 3000), on(10, 2000), on(11, 2100), on(12, 2200)])!.massG,
    ).toBe(2100);
  });
});

describe("in a fast a mass is held against", () => {
  const limits = { fastLossPct: [20, 30] as const };
  const fast = (
    before: readonly DailyMass[],
    from: number,
    day: number,
    fastLossPct: readonly [number, number] | null = limits.fastLossPct,
  ) =>
    fastReferences(
      before,
      { from: noon + from * dayMs },
      { limits: { fastLossPct } } as LevelCase,
      {
        at: noon + day * dayMs,
      },
    );
  const short = (...a: Parameters<typeof fast>) => fast(...a).map((r) => [r.from, r.massG]);

  it("its beginning, with the wider limits of a fast", () => {
    expect(fast(along(2000, 2100, 2050), 1, 9)).toEqual([
      { from: "begin", massG: 2100, at: noon + dayMs, ofThree: false, limits: [20, 30] },
    ]);
    // Weighed first inside the fast, that weighing is its beginning.
    expect(short(along(2000, 2100), -1, 9)).toEqual([["begin", 2000]]);
    expect(short(along(2000, 2100), 1, 9, null)).toEqual([]);
    expect(short([], 0, 1)).toEqual([]);
  });

  it("the day before, while it has no course of four days yet", () => {
    expect(short(along(2000, 2100, 2050), 0, 3)).toEqual([
      ["begin", 2000],
      ["day before", 2050],
    ]);
    expect(short(along(2000, 2100, 2050), 0, 4.25)).toHaveLength(2);
    expect(short(along(2000, 2100, 2050), 0, 4.26)).toEqual([["begin", 2000]]);
  });

  it("its own course from four days on: 2 % a day goes on as 2 % a day", () => {
    const course = [0, 1, 2, 3].map((d) => on(d, 2000 * 0.98 ** d));
    const found = fast(course, 0, 5);
    expect(found.map((r) => r.from)).toEqual(["begin", "course"]);
    expect(found[1]).toMatchObject({ at: noon + 3 * dayMs, ofThree: true });
    expect(found[1]!.limits).toBeUndefined();
    expect(found[1]!.massG).toBeCloseTo(2000 * 0.98 ** 5, 6);
    // What was weighed before the fast is no part of its course.
    const earlier = [on(-2, 900), on(-1, 1000), ...course];
    expect(fast(earlier, 0, 5).at(-1)!.massG).toBeCloseTo(2000 * 0.98 ** 5, 6);
    // The line of scattered days is that of least squares (worked out by hand).
    const scattered = [
      on(0, Math.exp(7.6)),
      on(1, Math.exp(7.5)),
      on(2, Math.exp(7.55)),
      on(3, Math.exp(7.35)),
    ];
    // Mean 7.5 at day 1.5; slope (-1.5*0.1 - 0.5*0 + 0.5*0.05 - 1.5*0.15) / 5 = -0.07.
    expect(Math.log(fast(scattered, 0, 5).at(-1)!.massG)).toBeCloseTo(7.5 - 0.07 * 3.5, 9);
  });

  it("a course that never rises", () => {
    const rising = [0, 1, 2, 3].map((d) => on(d, 2000 * 1.02 ** d));
    expect(fast(rising, 0, 5).at(-1)!.massG).toBeCloseTo(2000 * 1.02 ** 1.5, 6);
    // All within one instant have no slope.
    const at = [1, 1, 1, 1].map(() => on(1, 2000));
    expect(fast(at, 0, 5).at(-1)!.massG).toBeCloseTo(2000, 9);
  });
});
