import { describe, expect, it } from "vitest";
import { massBand } from "../../src/report/animal/mass-band.js";

const animal = (name: string, days: readonly number[], massG: number) => ({
  name,
  points: days.map((day) => ({ day, massG: massG + 10 * day })),
});

describe("what contemporaries weigh from day to day", () => {
  it("is read off between weighings, at ages with eight animals and more", () => {
    // Nine animals of 1100 to 1900 g at day 0, 10 g/d each, weighed every second day up to day 10.
    const nine = Array.from({ length: 9 }, (_, i) =>
      animal(`A${i}`, [0, 2, 4, 6, 8, 10], 1100 + 100 * i),
    );
    const band = massBand(nine);
    expect(band.map((b) => b.day)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    // Centiles of type 7 of 1110, 1210, ... 1910 at day 1 (Hyndman and Fan 1996): by hand,
    // places 0.4, 2, 4, 6 and 7.6 among the nine counted from 0.
    expect(band[1]).toEqual({
      day: 1,
      n: 9,
      low: expect.closeTo(1150, 8),
      lowerQuarter: 1310,
      middle: 1510,
      upperQuarter: 1710,
      high: expect.closeTo(1870, 8),
    });
  });

  it("is not told by seven, nor over a gap in which nobody weighed", () => {
    const seven = Array.from({ length: 7 }, (_, i) => animal(`A${i}`, [0, 5], 1000));
    expect(massBand(seven)).toEqual([]);
    const gap = Array.from({ length: 8 }, (_, i) => animal(`A${i}`, [0, 3, 20, 22, 24, 26], 1000));
    // Days 0 to 3 and 20 to 26: the longer run is kept, whole.
    expect(massBand(gap).map((b) => b.day)).toEqual([20, 21, 22, 23, 24, 25, 26]);
    expect(massBand([])).toEqual([]);
  });
});
