import { describe, expect, it } from "vitest";
import { gainsInWorld } from "../bench/worlds/gains-in-world.js";
import { heldOut } from "../bench/worlds/worlds.js";

/**
 * The small sibling of the bench "gain-coverage": one window a week of every animal, in
 * worlds that know nothing of the library. Seeds written down before the first run.
 */
describe("the interval of a gain over a week", () => {
  it.each([
    ["much gut fill", 15_508_000],
    ["hard, daily", 15_509_000],
  ])("holds at least 92 of 100 by default where gut fill lasts: %s", (name, seed) => {
    const world = heldOut.find((w) => w.name === name)!;
    const r = gainsInWorld(world, 7, 8, seed);
    expect(r.windows).toBeGreaterThan(250);
    // 92 %, less three standard errors by nursery.
    expect(r.held).toBeGreaterThan(0.92 - 3 * r.heldSe);
    expect(r.heldSe).toBeLessThan(0.03);
    // Weighings taken as independent hold less, at a narrower interval.
    expect(r.independent).toBeLessThan(r.held - 0.03);
    expect(r.wider).toBeGreaterThan(1.2);
  });
});
