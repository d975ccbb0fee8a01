import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { errorsInVariablesRegression } from "../../src/stats/linear-mixed/errors-in-variables-regression.js";

describe("regression with one column measured with error", () => {
  // Fuller (1987), Measurement Error Models, example 1.2.1: yield of corn on soil nitrogen at
  // 11 sites, error variance of nitrogen 57. Printed: 67.56 and 0.4232, reliability 0.813.
  const corn = [86, 115, 90, 86, 110, 91, 99, 96, 99, 104, 96];
  const nitrogen = [70, 97, 53, 64, 95, 64, 50, 70, 94, 69, 51];
  const one = corn.map(() => 1);
  const data = {
    response: corn,
    names: ["one", "nitrogen"],
    columns: [one, nitrogen],
    noisy: 1,
    errorVariance: corn.map(() => 57),
    group: corn.map((_, i) => `site ${i}`),
    random: one,
  };

  it("gives the worked example's coefficients and reliability", () => {
    const fit = errorsInVariablesRegression(data);
    expect(fit.status).toBe("converged");
    expect(fit.estimates[0]).toBeCloseTo(67.56, 2);
    expect(fit.estimates[1]).toBeCloseTo(0.4232, 4);
    expect(fit.reliability).toBeCloseTo(0.813, 3);
    // Printed standard error 0.1746, of large samples; the jackknife of 11 sites is near it.
    expect(Math.sqrt(fit.covariance[1]![1]!) / 0.1746).toBeGreaterThan(0.8);
    expect(Math.sqrt(fit.covariance[1]![1]!) / 0.1746).toBeLessThan(1.25);
  });

  it("is ordinary least squares when there is no error", () => {
    // R: lm(corn ~ nitrogen), 73.1528 and 0.34404.
    const fit = errorsInVariablesRegression({ ...data, errorVariance: corn.map(() => 0) });
    expect(fit.estimates[0]).toBeCloseTo(73.1528, 3);
    expect(fit.estimates[1]).toBeCloseTo(0.34404, 5);
    expect(fit.reliability).toBe(1);
  });

  it("says that nothing is left when the error is all there is", () => {
    const fit = errorsInVariablesRegression({ ...data, errorVariance: corn.map(() => 400) });
    expect(fit.status).toBe("too noisy");
    expect(fit.estimates).toEqual([]);
  });

  it("holds the truth in its interval although each error variance is only a rough estimate", () => {
    // 14 groups of 12 rows; error variances from 6 degrees of freedom each. Reliability beside
    // the other columns is about a half. 300 runs at 95 %: one standard error is 1.3 %.
    const random = seededRandom(20260703);
    const t = 2.160369; // 13 degrees of freedom
    let held = 0;
    let sum = 0;
    const runs = 300;
    for (let run = 0; run < runs; run++) {
      const rows = Array.from({ length: 14 * 12 }, (_, i) => {
        const size = 2 + 0.3 * (i % 12);
        const rate = 20 + 12 * size - size * size + 6 * random.normal();
        let chi = 0;
        for (let k = 0; k < 6; k++) chi += random.normal() ** 2;
        return {
          group: `g${Math.floor(i / 12)}`,
          size,
          rate,
          seen: rate + 6 * random.normal(),
          variance: (36 * chi) / 6,
        };
      });
      const own = new Map(rows.map((r) => [r.group, 0]));
      for (const g of own.keys()) own.set(g, 300 + 4 * random.normal());
      const fit = errorsInVariablesRegression({
        response: rows.map((r) => own.get(r.group)! * r.size + 2.3 * r.rate + 6 * random.normal()),
        names: ["size", "rate", "bend"],
        columns: [
          rows.map((r) => r.size),
          rows.map((r) => r.seen),
          rows.map((r) => r.size * Math.log(r.size / 3.5)),
        ],
        noisy: 1,
        errorVariance: rows.map((r) => r.variance),
        group: rows.map((r) => r.group),
        random: rows.map((r) => r.size),
      });
      const se = Math.sqrt(fit.covariance[1]![1]!);
      sum += fit.estimates[1]!;
      if (Math.abs(fit.estimates[1]! - 2.3) <= t * se) held++;
    }
    expect(held / runs).toBeGreaterThan(0.92);
    expect(held / runs).toBeLessThan(0.98);
    expect(Math.abs(sum / runs / 2.3 - 1)).toBeLessThan(0.05);
  });
});
