import { describe, expect, it } from "vitest";
import {
  animalsNeeded,
  comparisonPower,
  detectableDifference,
} from "../../src/seasons/detectable-difference.js";
import { noncentralTCumulative } from "../../src/stats/distributions/noncentral-t.js";
import { studentTQuantile } from "../../src/stats/distributions/student-t.js";

/** Power of the two-sample t test in closed form (noncentral t), textbook. */
function exactPower(difference: number, n: number, sd: number): number {
  const df = 2 * n - 2;
  const t = studentTQuantile(0.975, df);
  const centre = difference / (sd * Math.sqrt(2 / n));
  return noncentralTCumulative(t, df, centre, "upper") + noncentralTCumulative(-t, df, centre);
}

describe("what could have been found", () => {
  it.each([
    [5, 6, 5],
    [8, 6, 5],
    [10, 12, 10],
  ])(
    "agrees with the noncentral t without adjustments (difference %d, n %d, sd %d)",
    (d, n, sd) => {
      const power = comparisonPower(d, {
        perSeason: [n, n],
        residualSd: sd,
        adjustments: 0,
        seed: 41,
        runs: 20_000,
      });
      expect(Math.abs(power - exactPower(d, n, sd))).toBeLessThan(0.012);
    },
  );

  it("is the share of false 'differs' at no difference", () => {
    const rate = comparisonPower(0, { perSeason: [6, 6], residualSd: 5, seed: 42, runs: 20_000 });
    expect(rate).toBeGreaterThan(0.045);
    expect(rate).toBeLessThan(0.055);
  });

  it("grows with animals and shrinks with adjustments", () => {
    const at = (n: number, adjustments: number) =>
      detectableDifference({ perSeason: [n, n], residualSd: 5, adjustments, seed: 43, runs: 2000 })
        .difference;
    expect(at(12, 0)).toBeLessThan(at(6, 0));
    expect(at(6, 3)).toBeGreaterThan(at(6, 0));
  });

  it("finds the textbook number of animals: 17 a group for one standard deviation at 80 %", () => {
    // Cohen J (1988), table 2.4.1: d = 1, two-sided 5 %, power .80 needs n = 17 a group.
    const n = animalsNeeded(5, { residualSd: 5, adjustments: 0, seed: 44, runs: 20_000 });
    expect(n).toBeGreaterThanOrEqual(16);
    expect(n).toBeLessThanOrEqual(18);
  });

  it("says so when no number within reach would do", () => {
    expect(animalsNeeded(0.01, { residualSd: 5, runs: 200, seed: 45 })).toBeNull();
  });
});
