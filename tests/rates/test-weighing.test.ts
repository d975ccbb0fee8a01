import { describe, expect, it } from "vitest";
import { testWeighings } from "../../src/rates/test-weighing.js";
import { hour, smallSeries, start } from "./small-study.js";

const minutes = 60_000;
const options = { settings: { scaleErrorG: { s1: 3 } } };

/** Pairs of weighings around feeds: [time, mass, "before" or "after"]. */
function series(
  rows: readonly (readonly [number, number, "before" | "after"])[],
  feeds: { at: number }[],
) {
  const made = smallSeries({ weighings: rows.map(([at, g]) => [at, g] as const), feeds });
  const meal = new Map(rows.map((r) => [r[0], r[2]]));
  return {
    ...made,
    weighings: made.weighings.map((w) => ({ ...w, row: { ...w.row, meal: meal.get(w.at)! } })),
  };
}

describe("test weighing", () => {
  it("compares mass after less mass before with the bottle", () => {
    const feeds = [0, 3, 6].map((h) => ({ at: start + h * hour, offeredG: 60, refusedG: 10 }));
    const taken = [46, 52, 49];
    const rows = feeds.flatMap((f, i) => [
      [f.at - 5 * minutes, 2000, "before"] as const,
      [f.at + 20 * minutes, 2000 + taken[i]!, "after"] as const,
    ]);
    const { value } = testWeighings(series(rows, feeds), options);
    expect(value.meals.map((m) => m.taken.value)).toEqual(taken);
    expect(value.meals[0]!.taken.se).toBeCloseTo(3 * Math.SQRT2, 12);
    expect(value.meals.map((m) => m.differenceG)).toEqual([-4, 2, -1]);
    // Mean -1, sd 3, n 3, t(2) 4.3027 (textbook).
    expect(value.meanDifference.value).toBeCloseTo(-1, 12);
    expect(value.meanDifference.interval?.lower).toBeCloseTo(
      -1 - (4.302652729911275 * 3) / Math.sqrt(3),
      8,
    );
  });

  it("pairs nothing across too long a time, without a feed, or without a known amount", () => {
    const at = start + hour;
    const far = [[at - 100 * minutes, 2000, "before"] as const, [at, 2050, "after"] as const];
    expect(testWeighings(series(far, [{ at: at - 10 * minutes }]), options).value.meals).toEqual(
      [],
    );
    const near = [[at - 30 * minutes, 2000, "before"] as const, [at, 2050, "after"] as const];
    expect(testWeighings(series(near, []), options).value.meals).toEqual([]);
    const open = testWeighings(
      series(near, [{ at: at - 10 * minutes, refusedG: null } as { at: number }]),
      options,
    );
    expect(open.value.meals[0]).toMatchObject({ recordedG: null, differenceG: null });
    expect(open.value.meanDifference.value).toBeNull();
    expect(open.notices.map((n) => n.code)).toEqual(["test-weighing-none"]);
  });
});
