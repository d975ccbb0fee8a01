import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/core/random.js";
import { UsageError } from "../../../src/core/usage-error.js";
import { turnbull } from "../../../src/stats/survival/turnbull.js";
import { turnbullInterval } from "../../../src/stats/survival/turnbull-interval.js";
import { turnbullSurvival } from "../../../src/stats/survival/turnbull-survival.js";
import { radiotherapy } from "../../truth/breast-cosmesis/times.js";
import { coverageOfShares, weekly } from "./simulated-looks.js";

describe("weights of times", () => {
  it("are the times written so often", () => {
    const weights = radiotherapy.map((_, i) => i % 3);
    const repeated = radiotherapy.flatMap((t, i) => Array.from({ length: i % 3 }, () => t));
    const a = turnbull(radiotherapy, { weights });
    const b = turnbull(repeated);
    expect(a.logLikelihood).toBeCloseTo(b.logLikelihood, 6);
    expect(a.steps.map((s) => [s.from, s.to])).toEqual(b.steps.map((s) => [s.from, s.to]));
  });

  it("must belong to the times and not all be 0", () => {
    expect(() => turnbull([{ after: 0, by: 1 }], { weights: [0] })).toThrow(UsageError);
    expect(() => turnbull([{ after: 0, by: 1 }], { weights: [1, 1] })).toThrow(/2 weights/);
  });
});

describe("the interval of the share that had the event", () => {
  const at = [5, 10, 20, 30, 40, 50];

  it("holds the estimate and rises with time (breast cosmesis)", () => {
    const fit = turnbull(radiotherapy);
    const found = turnbullInterval(radiotherapy, at, { seed: 20260513, runs: 200 });
    found.forEach(({ at: t, lower, upper }, j) => {
      const later = turnbullSurvival(fit, t);
      expect(lower).toBeLessThanOrEqual(1 - later.upper);
      expect(upper).toBeGreaterThanOrEqual(1 - later.lower);
      if (j > 0) expect(upper).toBeGreaterThanOrEqual(found[j - 1]!.upper - 1e-12);
    });
  });

  it("is the exact binomial one where nobody, or everybody, had it (Clopper-Pearson)", () => {
    const times = Array.from({ length: 8 }, () => ({ after: 10, by: 12 }));
    const [before, after] = turnbullInterval(times, [5, 20], { seed: 1, runs: 50 });
    // None of 8: upper limit 1 - 0.025^(1/8) = 0.3694; all of 8: 0.6306.
    expect(before).toMatchObject({ lower: 0, upper: expect.closeTo(0.3694, 4) });
    expect(after).toMatchObject({ lower: expect.closeTo(0.6306, 4), upper: 1 });
  });

  it("is everything where nobody had entered", () => {
    const times = [
      { after: 10, by: 12, entered: 8 },
      { after: 9, by: 14, entered: 7 },
    ];
    expect(turnbullInterval(times, [6], { runs: 20 })[0]).toEqual({ at: 6, lower: 0, upper: 1 });
  });

  it("holds the true share about 19 times in 20 or more often, with and without late entry", () => {
    // Short sibling of the bench; seeds were written down before the first run.
    for (const [i, latestEntryD] of [0, 45].entries()) {
      const { covered } = coverageOfShares(
        { ...weekly, latestEntryD },
        { at: [45, 60, 75], sets: 150, runs: 100, random: seededRandom(20260514 + i) },
      );
      // 95 % less three binomial standard errors of 150.
      for (const share of covered) expect(share).toBeGreaterThan(0.895);
    }
  });

  it("is the same for the same seed and can be cancelled", () => {
    const run = () => turnbullInterval(radiotherapy, at, { seed: 7, runs: 30 });
    expect(run()).toEqual(run());
    expect(() => turnbullInterval(radiotherapy, at, { signal: AbortSignal.abort() })).toThrow();
  });
});
