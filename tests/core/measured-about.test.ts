import { expect, it } from "vitest";
import { measuredAbout } from "../../src/core/measured.js";

it("an interval about a certain range holds both its ends, and stands only where there is an error", () => {
  // 100 g, standard error 10 g: 80.4 to 119.6 g, and 5 g more on either side.
  const about = measuredAbout(100, "g", 10, { n: 4, half: 5 });
  expect(about).toMatchObject({ value: 100, unit: "g", se: 10, n: 4 });
  expect(about.interval!.lower).toBeCloseTo(75.4, 10);
  expect(about.interval!.upper).toBeCloseTo(124.6, 10);
  expect(measuredAbout(100, "g", 10).interval).toEqual({ lower: 80.4, upper: 119.6, level: 0.95 });
  expect(measuredAbout(100, "g", Number.NaN, { n: 2 })).toEqual({ value: 100, unit: "g", n: 2 });
});
