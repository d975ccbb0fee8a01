import { describe, expect, it } from "vitest";
import { type CourseRow, courseAt } from "../../src/analysis/course-at.js";

const row = (time: number, logMass: number, error = 0.01): CourseRow => ({
  time,
  logMass,
  error,
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
