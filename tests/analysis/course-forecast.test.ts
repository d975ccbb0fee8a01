import { describe, expect, it } from "vitest";
import {
  type CourseAnimal,
  type CourseRow,
  courseAt,
  heldOut,
  multipliersOf,
  replayCourses,
} from "../../src/analysis/course-forecast.js";
import type { WatchedAnimal } from "../../src/flags/watch/watch-group.js";
import { designs, seededRandom, simulateCohort } from "../bench/simulated-cohorts.js";

const row = (time: number, logMass: number, error = 0.01): CourseRow => ({
  time,
  age: time,
  logMass,
  error,
  usual: true,
  serves: true,
});

const asCourse = (a: WatchedAnimal, k: number): CourseAnimal => ({
  id: `${a.id}-${k}`,
  rows: Array.from(a.time, (_, i) => ({
    time: a.day[i]!,
    age: a.time[i]!,
    logMass: a.logMass[i]!,
    error: Math.sqrt(a.knownVariance[i]! + 0.007 ** 2),
    usual: a.knownVariance[i] === 0,
    serves: true,
  })),
});

describe("the course of the last days", () => {
  it("is the least-squares line, with the textbook error of a predicted mean", () => {
    // Worked by hand: x = -3..0, y = 0, 1, 3, 4: slope 1.4, mean 2 at x = -1.5, so
    // 4.1 at x = 0; residuals 0.1, -0.3, 0.3, -0.1, sum of squares 0.2, on 2 degrees 0.1;
    // var at x = 2: 0.1 (1/4 + 3.5^2/5) = 0.27.
    const rows = [0, 1, 3, 4].map((y, i) => row(i, y, 0.01));
    const course = courseAt(rows, 3, 6)!;
    expect(course.slope).toBeCloseTo(1.4, 12);
    expect(course.level).toBeCloseTo(4.1, 12);
    expect(course.se(2)).toBeCloseTo(Math.sqrt(0.27), 10);
  });

  it("is refused with fewer than 4 weighings or less than half of the window", () => {
    expect(
      courseAt(
        [0, 1, 2].map((t) => row(t, t)),
        2,
        7,
      ),
    ).toBeNull();
    expect(
      courseAt(
        [0, 0.5, 1, 1.5].map((t) => row(t, t)),
        3,
        7,
      ),
    ).toBeNull();
  });

  it("never reads what came later", () => {
    const rows = Array.from({ length: 12 }, (_, i) => row(i, 0.01 * i));
    const changed = rows.map((r, i) => (i > 8 ? { ...r, logMass: 9 } : r));
    expect(courseAt(changed, 8, 7)!.level).toBe(courseAt(rows, 8, 7)!.level);
  });
});

describe("limits by replay", () => {
  const cohort = (seed: number, k: number, name = "everything") =>
    simulateCohort(
      { animals: 14, days: 60, ...designs[name]! },
      seededRandom(seed).split(k),
    ).animals.map((a) => asCourse(a, k));

  it("hold on fresh groups that the limits have not seen", () => {
    // Seed 20281 sets the limits, seed 20282 is forecast; written down before the first run.
    for (const scenario of ["own course", "as the others"] as const) {
      let in80 = 0;
      let in95 = 0;
      let n = 0;
      for (let k = 0; k < 12; k++) {
        const limits = multipliersOf(replayCourses(cohort(20281, k)), scenario)!;
        for (const m of replayCourses(cohort(20282, k)).misses[scenario]) {
          if (m.ahead !== 7) continue;
          n++;
          if (m.size <= limits.half80[6]!) in80++;
          if (m.size <= limits.half95[6]!) in95++;
        }
      }
      expect(n).toBeGreaterThan(2000);
      expect(in80 / n).toBeGreaterThan(0.75);
      expect(in80 / n).toBeLessThan(0.85);
      expect(in95 / n).toBeGreaterThan(0.92);
      expect(in95 / n).toBeLessThan(0.975);
    }
  });

  it("leave the animal out that they are for", () => {
    const animals = cohort(20283, 0);
    const replay = replayCourses(animals);
    const wild = replayCourses([
      {
        ...animals[0]!,
        rows: animals[0]!.rows.map((r, i) => ({
          ...r,
          logMass: r.logMass + (i % 5 === 0 ? 1 : 0),
        })),
      },
      ...animals.slice(1),
    ]);
    const without = (r: typeof replay) => multipliersOf(r, "own course", animals[0]!.id)!.half95;
    expect(without(wild)).toEqual(without(replay));
    expect(multipliersOf(wild, "own course")!.half95).not.toEqual(
      multipliersOf(replay, "own course")!.half95,
    );
  });

  it("are not given by fewer than four animals, and not checked by fewer than five", () => {
    expect(multipliersOf(replayCourses(cohort(20284, 0).slice(0, 3)), "own course")).toBeNull();
    expect(heldOut(replayCourses(cohort(20284, 0).slice(0, 4)), "own course", 7)).toBeNull();
    const held = heldOut(replayCourses(cohort(20284, 0)), "own course", 7)!;
    expect(held.animals).toBe(14);
    expect(held.share95).toBeGreaterThan(held.share80);
  });
});
