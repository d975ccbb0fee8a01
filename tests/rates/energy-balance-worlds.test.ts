import { describe, expect, it } from "vitest";
import { pricesInWorld } from "../bench/worlds/price-in-world.js";
import { heldOut } from "../bench/worlds/worlds.js";

/**
 * The small sibling of the bench "energy-balance": nurseries from worlds that know nothing
 * of the library. Seeds written down before the first run.
 */
const design = { animals: 10, days: 21, restless: 0.03 };
const world = (name: string) => heldOut.find((w) => w.name === name)!;

describe("energy balance in worlds of another make", () => {
  it("prices a gram where gut fill lasts, within 15 % on average, and holds the truth", () => {
    const r = pricesInWorld(world("hard"), design, 12, 15_441_000);
    expect(r.priced).toBeGreaterThanOrEqual(0.5);
    // Of about eight prices: at a true share of 95 % fewer than 80 % held is seen once in 17.
    expect(r.held).toBeGreaterThanOrEqual(0.8);
    expect(Math.abs(r.bias)).toBeLessThan(0.15);
  });

  it("refuses and says why where gains hardly differ", () => {
    const r = pricesInWorld(world("plain"), design, 6, 15_442_000);
    expect(r.priced).toBeLessThanOrEqual(0.5);
    expect(r.refused["balance-growth-wide"]).toBeGreaterThanOrEqual(3);
  });

  it("allows for what the model does not know, however many days there are", () => {
    const long = { ...design, days: 55 };
    const sure = pricesInWorld(world("quiet"), long, 4, 15_443_000);
    // 10 % either way, at 95 %.
    expect(sure.factor).toBeGreaterThan(Math.exp(2 * 1.96 * 0.1));
    const plain = pricesInWorld(world("plain"), long, 12, 15_444_000);
    expect(plain.priced).toBeGreaterThan(0.5);
    // Of seven to twelve prices: at a true share of 94 % fewer than 75 % are seen once in 30 at most.
    expect(plain.held).toBeGreaterThanOrEqual(0.75);
  });
});
