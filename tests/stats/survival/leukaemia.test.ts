import { describe, expect, it } from "vitest";
import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import { coxRegression } from "../../../src/stats/survival/cox-regression.js";
import { kaplanMeier } from "../../../src/stats/survival/kaplan-meier.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import { remissions } from "../../truth/leukaemia/remissions.js";

/** The 6-MP trial (Freireich 1963). Log-rank 16.79 is published; further digits R 4.2.2, survival. */
const data = {
  time: remissions.map((r) => r.weeks),
  event: remissions.map((r) => r.relapsed),
};
const arm = remissions.map((r) => r.arm);

describe("the 6-MP trial", () => {
  it("log-rank: 16.7929410, p 4.16881e-5; 9 and 21 seen against 19.25 and 10.75", () => {
    const test = logRankTest(data, arm);
    expect(test.chiSquared).toBeCloseTo(16.792941, 6);
    expect(test.p).toBeCloseTo(4.16881e-5, 9);
    expect(test.observed).toEqual([9, 21]);
    expect(test.expected[0]).toBeCloseTo(19.2505009, 6);
    expect(test.expected[1]).toBeCloseTo(10.7494991, 6);
  });

  it("Peto-Peto: 14.4571508", () => {
    expect(logRankTest(data, arm, { rho: 1 }).chiSquared).toBeCloseTo(14.4571508, 6);
  });

  it("Kaplan-Meier of the 6-MP arm: 0.857143, 0.752941, 0.537815; Greenwood 0.0763604", () => {
    const own = remissions.filter((r) => r.arm === "6-MP");
    const { steps } = kaplanMeier({
      time: own.map((r) => r.weeks),
      event: own.map((r) => r.relapsed),
    });
    const at = (t: number) => steps.find((s) => s.time === t)!;
    expect(at(6).survival).toBeCloseTo(0.857143, 6);
    expect(at(10).survival).toBeCloseTo(0.752941, 6);
    expect(at(22).survival).toBeCloseTo(0.537815, 6);
    expect(at(6).se).toBeCloseTo(0.0763604, 7);
  });

  it("Cox: 1.5721251 (0.4123967) by Efron, 1.5091914 (0.4095644) by Breslow", () => {
    const x = matrixFromRows(arm.map((a) => [a === "placebo" ? 1 : 0]));
    const efron = coxRegression(data, x, { ties: "efron" });
    expect(efron.coefficients[0]).toBeCloseTo(1.5721251, 7);
    expect(efron.standardErrors[0]).toBeCloseTo(0.4123967, 7);
    const breslow = coxRegression(data, x, { ties: "breslow" });
    expect(breslow.coefficients[0]).toBeCloseTo(1.5091914, 7);
    expect(breslow.standardErrors[0]).toBeCloseTo(0.4095644, 7);
  });
});
