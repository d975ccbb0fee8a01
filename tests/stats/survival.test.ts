import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { matrixFromRows } from "../../src/stats/linear-algebra/matrix.js";
import { competingRisks } from "../../src/stats/survival/competing-risks.js";
import { coxRegression } from "../../src/stats/survival/cox-regression.js";
import {
  kaplanMeier,
  restrictedMean,
  survivalAt,
  survivalQuantile,
} from "../../src/stats/survival/kaplan-meier.js";
import { logRankTest } from "../../src/stats/survival/log-rank-test.js";
import { parametricSurvival } from "../../src/stats/survival/parametric-survival.js";

/**
 * Remission times of 23 patients with and without maintained treatment: R. Miller,
 * Survival Analysis (1981), p. 49; distributed with R's survival package as `aml`.
 * Results: R 4.2.2, survival 3.5-3.
 */
const time = [
  9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161, 5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45,
];
const event = [1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1];
const group = time.map((_, i) => (i < 11 ? "maintained" : "other"));
const x = matrixFromRows(group.map((g) => [g === "other" ? 1 : 0]));

describe("published example (aml, values of R)", () => {
  it("curve, limits, median and restricted mean", () => {
    const c = kaplanMeier({ time: time.slice(0, 11), event: event.slice(0, 11) });
    expect(c.steps[3]!.survival).toBeCloseTo(0.6136363636363635, 14);
    expect(c.steps[3]!.se).toBeCloseTo(0.152632331027312, 13);
    expect(c.steps[3]!.lower).toBeCloseTo(0.37686705950167976, 13);
    expect(survivalQuantile(c, 0.5)).toEqual({ time: 31, lower: 18, upper: null });
    const mean = restrictedMean(c, 161);
    expect(mean.mean).toBeCloseTo(52.64545454545454, 11);
    expect(mean.se).toBeCloseTo(19.828602795562585, 11);
    expect(survivalAt(c, 8.9)).toBe(1);
  });

  it("Cox regression by three treatments of ties", () => {
    const efron = coxRegression({ time, event }, x);
    expect(efron.coefficients[0]).toBeCloseTo(0.9155325750147176, 9);
    expect(efron.standardErrors[0]).toBeCloseTo(0.5119342751720054, 9);
    expect(efron.logLikelihood.fitted).toBeCloseTo(-41.03261559645838, 10);
    expect(efron.concordance.c).toBeCloseTo(0.6190476190476191, 12);
    const exact = coxRegression({ time, event }, x, { ties: "exact" });
    expect(exact.coefficients[0]).toBeCloseTo(0.9217608691588806, 9);
  });

  it("log-rank chi-squared is the score test with exact ties", () => {
    const rank = logRankTest({ time, event }, group);
    const exact = coxRegression({ time, event }, x, { ties: "exact" });
    expect(rank.chiSquared).toBeCloseTo(3.396388698977602, 10);
    expect(exact.score!.chiSquared).toBeCloseTo(rank.chiSquared!, 10);
  });
});

describe("laws", () => {
  const rows = fc.array(
    fc.record({
      time: fc.integer({ min: 2, max: 12 }),
      event: fc.boolean(),
      x: fc.integer({ min: -2, max: 2 }),
      cut: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
    }),
    { minLength: 8, maxLength: 25 },
  );

  it("cutting a row in two pieces of time changes neither the curve nor the Cox fit", () => {
    fc.assert(
      fc.property(rows, (r) => {
        if (!r.some((v) => v.event)) return;
        const whole = { time: r.map((v) => v.time), event: r.map((v) => v.event) };
        const cut = {
          time: r.flatMap((v) => [v.time * v.cut, v.time]),
          event: r.flatMap((v) => [false, v.event]),
          entry: r.flatMap((v) => [0, v.time * v.cut]),
        };
        const a = kaplanMeier(whole).steps.filter((s) => s.events > 0);
        const b = kaplanMeier(cut).steps.filter((s) => s.events > 0);
        a.forEach((s, i) => {
          expect(b[i]!.atRisk).toBe(s.atRisk);
          expect(b[i]!.survival).toBeCloseTo(s.survival, 12);
        });
        const one = coxRegression(whole, matrixFromRows(r.map((v) => [v.x])));
        const two = coxRegression(cut, matrixFromRows(r.flatMap((v) => [[v.x], [v.x]])));
        if (one.status !== "converged") return;
        expect(two.coefficients[0]).toBeCloseTo(one.coefficients[0]!, 6);
        expect(two.logLikelihood.fitted).toBeCloseTo(one.logLikelihood.fitted, 8);
      }),
      { seed: 20260130, numRuns: 60 },
    );
  });

  it("competing events: shares add up, and one kind is one minus Kaplan-Meier", () => {
    fc.assert(
      fc.property(rows, (r) => {
        const kinds = r.map((v) => (v.event ? (v.x > 0 ? "a" : "b") : null));
        const times = r.map((v) => v.time);
        for (const s of competingRisks(times, kinds).steps) {
          expect(s.eventFree + s.cumulative.reduce((t, v) => t + v, 0)).toBeCloseTo(1, 12);
        }
        const one = competingRisks(
          times,
          kinds.map((k) => (k === null ? null : "any")),
        );
        const curve = kaplanMeier({ time: times, event: r.map((v) => v.event) });
        one.steps.forEach((s, i) => {
          expect(s.eventFree).toBeCloseTo(curve.steps[i]!.survival, 12);
          const greenwood = curve.steps[i]!.se;
          if (greenwood !== null) expect(s.seEventFree).toBeCloseTo(greenwood, 10);
        });
      }),
      { seed: 20260131, numRuns: 60 },
    );
  });

  it("says when a hazard ratio runs off", () => {
    const fit = coxRegression(
      { time: [1, 2, 3, 4, 5, 6], event: [1, 1, 1, 0, 0, 0] },
      matrixFromRows([[1], [1], [1], [0], [0], [0]]),
    );
    expect(fit.status).not.toBe("converged");
  });

  it("exponential times: the scale is total time over events", () => {
    const t = [1, 2, 3, 4, 10];
    const e = [1, 1, 0, 1, 0];
    const fit = parametricSurvival(
      { time: t, event: e },
      matrixFromRows(t.map(() => [1])),
      "exponential",
    );
    expect(Math.exp(fit.coefficients[0]!)).toBeCloseTo(20 / 3, 10);
  });
});
