import { describe, expect, it } from "vitest";
import { ownChange } from "../../src/analysis/own-change.js";
import { designs, seededRandom, simulateCohort } from "../bench/simulated-cohorts.js";

describe("a bend in one animal's own ln mass", () => {
  it("finds the corner of two exact lines, with both slopes", () => {
    const time = Array.from({ length: 20 }, (_, i) => i);
    const y = time.map((t) => (t <= 11 ? 0.012 * t : 0.132 + 0.004 * (t - 11)));
    const found = ownChange(time, y, 0.001)!;
    expect(found.index).toBe(11);
    expect(found.earliest).toBeLessThanOrEqual(11);
    expect(found.latest).toBeGreaterThanOrEqual(11);
    expect(found.before).toBeCloseTo(0.012, 10);
    expect(found.after).toBeCloseTo(0.004, 10);
  });

  it("agrees with textbook weighted least squares of a bend at the same place", () => {
    // Normal equations solved by hand for y = a + s x + b max(0, x), x = t - 3, at
    // t = 0..7, y = 0,1,2,3,3,3,3,3: the fit is exact, a = 3 (relative 0), s = 1, b = -1.
    const found = ownChange([0, 1, 2, 3, 4, 5, 6, 7], [0, 1, 2, 3, 3, 3, 3, 3], 0.01)!;
    expect(found).toMatchObject({ index: 3 });
    expect(found.before).toBeCloseTo(1, 9);
    expect(found.after).toBeCloseTo(0, 9);
    // Variance of b: element (3,3) of the inverse normal matrix times the widened error.
    const x = [-3, -2, -1, 0, 1, 2, 3, 4];
    const sums = (f: (v: number) => number) => x.reduce((s, v) => s + f(v), 0);
    const p = (v: number) => Math.max(0, v);
    const [n, a, b, c, d, e] = [
      8,
      sums((v) => v),
      sums(p),
      sums((v) => v * v),
      sums((v) => v * p(v)),
      sums((v) => p(v) ** 2),
    ] as const;
    const determinant = n * (c * e - d * d) - a * (a * e - d * b) + b * (a * d - c * b);
    const variance = ((n * c - a * a) / determinant) * 0.01 ** 2;
    expect(found.se).toBeCloseTo(Math.sqrt(2.5 * variance), 12);
  });

  it("says nothing of too few values, or of a line that only bends upwards", () => {
    expect(ownChange([0, 1, 2, 3, 4, 5, 6], [0, 1, 2, 3, 3, 3, 3], 0.01)).toBeNull();
    const time = Array.from({ length: 14 }, (_, i) => i);
    expect(
      ownChange(
        time,
        time.map((t) => 0.001 * t * t),
        0.001,
      ),
    ).toBeNull();
  });

  it("does not depend on where time and mass begin", () => {
    const random = seededRandom(20271);
    const time = Array.from({ length: 25 }, (_, i) => i + 0.3 * random.uniform());
    const y = time.map((t) => 0.01 * Math.min(t, 12) + 0.008 * random.normal());
    const one = ownChange(time, y, 0.008)!;
    const two = ownChange(
      time.map((t) => t + 19000),
      y.map((v) => v + 7.6),
      0.008,
    )!;
    expect(two.index).toBe(one.index);
    expect(two.z).toBeCloseTo(one.z, 4);
  });

  it("holds a halved gain's true day in at least 85 % with independent and with hard weighings", () => {
    // Seed 20262, as in the bench; the bench has the whole table.
    for (const name of ["plain", "everything"]) {
      let inside = 0;
      let found = 0;
      for (let i = 0; i < 300; i++) {
        const cohort = simulateCohort(
          { animals: 1, days: 34, ...designs[name]!, affected: { animal: 0, fromDay: 14 } },
          seededRandom(20262).split(i),
        );
        const a = cohort.animals[0]!;
        const change = ownChange(
          a.time,
          a.logMass,
          Float64Array.from(a.knownVariance, (v) => Math.sqrt(v + 0.007 ** 2)),
        );
        if (change === null) continue;
        found++;
        if (
          a.day[change.earliest]! <= cohort.changeDay! &&
          a.day[change.latest]! >= cohort.changeDay!
        )
          inside++;
      }
      expect(found).toBeGreaterThan(250);
      // 85 % less two Monte Carlo standard errors.
      expect(inside / found).toBeGreaterThan(0.81);
    }
  });
});
