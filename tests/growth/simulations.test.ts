import { describe, expect, it } from "vitest";
import { type CurveName, growthCurves } from "../../src/growth/curve-catalogue.js";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { coverageOf } from "../bench/curve-coverage.js";
import { designIdentifies, searchedRss, simulateSeries } from "../bench/curve-simulations.js";

/**
 * The small siblings of two benches (`curves-self-start`, `curves-coverage`,
 * 10,000 series a curve; results in tests/bench/results). Seeds written down
 * before the first run.
 */
describe("the self-start against a 20-start search that includes the truth", () => {
  it.each(Object.keys(growthCurves) as CurveName[])("%s", (name) => {
    const missed: number[] = [];
    let identified = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const series = simulateSeries(name, seed);
      if (series === null) continue;
      const fit = fitCurve(
        { ages: series.ages, masses: series.masses },
        { curve: name, origin: 0 },
      );
      expect(["converged", "not-converged", "too-few-points"]).toContain(fit.value.status);
      if (!designIdentifies(series)) continue;
      identified++;
      const rss = fit.value.rss ?? (fit.diagnostics["lastRss"] as number | null) ?? Infinity;
      if (rss > searchedRss(series, seed) * (1 + 1e-6)) missed.push(seed);
    }
    expect(identified).toBeGreaterThan(15);
    expect(missed).toEqual([]);
  });
});

describe("coverage of 95 % profile intervals, 30 weighings", () => {
  it("lies near 95 % for every parameter of the logistic curve", () => {
    const runs = 600;
    const found = coverageOf("logistic", runs, 42);
    expect(found.identifiedByDesign).toBe(true);
    expect(found.notConverged).toBe(0);
    // 600 runs: two and a half standard errors of a share of 0.95 are 2.2 %.
    for (const share of Object.values(found.profile)) {
      expect(share).toBeGreaterThan(0.928);
      expect(share).toBeLessThan(0.972);
    }
  });
});
