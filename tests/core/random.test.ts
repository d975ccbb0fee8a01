import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";

describe("seeded random numbers", () => {
  it("gives the same stream for the same seed and another for another", () => {
    const draw = (seed: number) => {
      const random = seededRandom(seed);
      return Array.from({ length: 5 }, () => random.uniform());
    };
    expect(draw(20261125)).toEqual(draw(20261125));
    expect(draw(1)).not.toEqual(draw(2));
  });

  it("has the moments of a uniform and of a standard normal", () => {
    // Bounds are 5 standard errors of each moment at n = 200,000.
    const n = 200_000;
    const random = seededRandom(7);
    let u = 0;
    let z = 0;
    let zz = 0;
    let z4 = 0;
    for (let i = 0; i < n; i++) {
      u += random.uniform();
      const x = random.normal();
      z += x;
      zz += x * x;
      z4 += x ** 4;
    }
    expect(Math.abs(u / n - 0.5)).toBeLessThan((5 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    expect(Math.abs(z / n)).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(zz / n - 1)).toBeLessThan((5 * Math.sqrt(2)) / Math.sqrt(n));
    expect(Math.abs(z4 / n - 3)).toBeLessThan((5 * Math.sqrt(96)) / Math.sqrt(n));
  });

  it("spreads uniforms evenly over 100 cells (chi-squared, 99 df, 0.0001 tail 161)", () => {
    const random = seededRandom(11);
    const cells = new Array<number>(100).fill(0);
    for (let i = 0; i < 100_000; i++) cells[Math.floor(random.uniform() * 100)]!++;
    const chi = cells.reduce((sum, c) => sum + (c - 1000) ** 2 / 1000, 0);
    expect(chi).toBeLessThan(161);
    expect(chi).toBeGreaterThan(52);
  });

  it("splits into streams that do not depend on how far the parent has run", () => {
    const parent = seededRandom(3);
    const early = parent.split(5).uniform();
    parent.uniform();
    expect(parent.split(5).uniform()).toBe(early);
    expect(parent.split(6).uniform()).not.toBe(early);
  });

  it("shuffles without losing an item", () => {
    const items = Array.from({ length: 50 }, (_, i) => i);
    const out = seededRandom(9).shuffled(items);
    expect(out).not.toEqual(items);
    expect([...out].sort((a, b) => a - b)).toEqual(items);
  });
});
