import { describe, expect, it } from "vitest";
import {
  normalMixtureCumulative,
  normalMixtureQuantile,
} from "../../src/stats/distributions/normal-mixture.js";
import { firstPassage } from "../../src/stats/state-space/first-passage.js";

describe("a mixture of normals", () => {
  const parts = [
    { weight: 0.7, mean: 0, sd: 1 },
    { weight: 0.3, mean: 2, sd: 3 },
  ];

  it("has the quantiles at which its density, integrated by Simpson's rule, has the share", () => {
    const density = (x: number) =>
      parts.reduce(
        (s, p) =>
          s +
          (p.weight * Math.exp(-0.5 * ((x - p.mean) / p.sd) ** 2)) /
            (p.sd * Math.sqrt(2 * Math.PI)),
        0,
      );
    for (const share of [0.025, 0.5, 0.975]) {
      const q = normalMixtureQuantile(parts, share);
      const n = 4000;
      const h = (q + 40) / n;
      let sum = 0;
      for (let i = 0; i <= n; i++)
        sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * density(-40 + i * h);
      expect((sum * h) / 3).toBeCloseTo(share, 8);
      expect(normalMixtureCumulative(parts, q)).toBeCloseTo(share, 10);
    }
  });

  it("of one part is that normal: 97.5 % at 1.959964 (any table of the normal distribution)", () => {
    const one = [{ weight: 1, mean: 10, sd: 2 }];
    expect(normalMixtureQuantile(one, 0.975)).toBeCloseTo(10 + 2 * 1.959963984540054, 10);
    expect(normalMixtureQuantile([{ weight: 1, mean: 3, sd: 0 }], 0.1)).toBe(3);
    expect(() => normalMixtureQuantile([], 0.5)).toThrow(RangeError);
    expect(() => normalMixtureQuantile(one, 1)).toThrow(RangeError);
  });
});

describe("first passage", () => {
  it("of a line whose slope alone is unknown is that of bound over slope, in closed form", () => {
    // Slope normal (1, 0.1): reached by t exactly where the slope is at least bound / t.
    const times = Array.from({ length: 400 }, (_, i) => (i + 1) / 10);
    const path = times.map((t) => [{ weight: 1, mean: t, sd: 0.1 * t }]);
    const { timeOf, reachedBy } = firstPassage(times, path, 20);
    const z = 1.959963984540054;
    expect(timeOf(0.5)).toBeCloseTo(20, 3);
    expect(timeOf(0.025)).toBeCloseTo(20 / (1 + 0.1 * z), 2);
    expect(timeOf(0.975)).toBeCloseTo(20 / (1 - 0.1 * z), 2);
    expect(reachedBy.every((p, i) => i === 0 || p >= reachedBy[i - 1]!)).toBe(true);
  });

  it("has no time where the bound is not reached by the last one, and the first where it was before", () => {
    const level = [0, 1, 2].map(() => [{ weight: 1, mean: 0, sd: 1 }]);
    expect(firstPassage([0, 1, 2], level, 5).timeOf(0.5)).toBeNull();
    expect(firstPassage([0, 1, 2], level, -5).timeOf(0.5)).toBe(0);
  });
});
