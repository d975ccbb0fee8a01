import { describe, expect, it } from "vitest";
import { healthyLevels, plantedLevels } from "../bench/watched/level-rates.js";
import { plantedDangers } from "../bench/watched/planted-dangers.js";
import { lossNamed, namedBy } from "./loss-alone.js";

/**
 * Small siblings of the benches `levels` and `loss-alone`. Seeds written down before the
 * first run: 14392000 and on, 20340000 and on.
 */
describe("levels on the pages of an invented nursery", () => {
  it.each(["full", "tired"] as const)("find every planted danger on the next page: %s", (kept) => {
    const found = [0, 1].flatMap((i) => plantedLevels(14_392_000 + i, kept, 4, 24));
    expect(found).toHaveLength(2 * plantedDangers.length);
    const missed = found.filter((f) => !f.found);
    expect(missed.map((f) => [f.seed, f.danger, f.level.reasons.map((r) => r.what)])).toEqual([]);
    // A danger has an act and a sentence, and makes suggestions wait.
    for (const { level } of found) {
      expect(level.act).toMatch(/^(do not feed until spoken|call now, feed as ordered)$/);
      expect(level.reasons[0]!.suggestionsWait).toBe(true);
    }
  });

  it("name a healthy animal a danger at most once in 100 weeks, and seldom ask to measure first", () => {
    const all = [0, 1, 2].map((i) => healthyLevels(14_392_100 + i, "full", 4, 24));
    const weeks = all.reduce((n, c) => n + c.weeks, 0);
    const dangers = all.flatMap((c) => Object.values(c.dangers)).reduce((a, b) => a + b, 0);
    expect(weeks).toBeGreaterThan(15);
    // Of a rate of 1 in 100 two or more in so few weeks come up in fewer than 4 of 100 runs.
    expect(dangers).toBeLessThanOrEqual(1);
    const measured = all.reduce((n, c) => n + c.measureFirst, 0);
    const pages = all.reduce((n, c) => n + c.pages, 0);
    expect(measured / pages).toBeLessThan(0.12);
  });
});

describe("the loss of an animal that is alone", () => {
  const runs = (course: Parameters<typeof lossNamed>[1], key: number) =>
    Array.from({ length: 250 }, (_, i) => lossNamed(20_340_000 + key + i, course, 0.01));

  it("of 1.8 % a day is looked at by day 4 and a danger by day 7", () => {
    const losing = runs("losing 1.8 % a day", 0);
    // 95 in 100 each, less two standard errors of 250 runs.
    expect(namedBy(losing, "look", 4)).toBeGreaterThan(0.92);
    expect(namedBy(losing, "danger", 7)).toBeGreaterThan(0.92);
  });

  it("of 2 % on arrival, regained, is seldom looked at and no danger", () => {
    const dips = runs("dips 2 %", 1000);
    expect(namedBy(dips, "look", 10)).toBeLessThan(0.08);
    expect(namedBy(dips, "danger", 10)).toBeLessThan(0.013);
  });
});
