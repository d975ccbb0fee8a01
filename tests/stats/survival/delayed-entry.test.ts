import { describe, expect, it } from "vitest";
import { UsageError } from "../../../src/core/usage-error.js";
import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import { competingRisks } from "../../../src/stats/survival/competing-risks.js";
import { coxRegression } from "../../../src/stats/survival/cox-regression.js";
import { kaplanMeier, restrictedMean } from "../../../src/stats/survival/kaplan-meier.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";

/**
 * Units that come under observation late, against R 4.2.2 (survival 3.5-3):
 * survfit and coxph on Surv(entry, time, event). Figures as R printed them.
 */
const entry = [0, 0, 2, 3, 0, 5, 1, 4, 6, 0, 7, 2, 3, 1];
const time = [4, 6, 6, 9, 10, 11, 12, 12, 14, 15, 16, 18, 9, 11];
const event = [1, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1, 1, 1];
const x = [1.2, 0.4, 1.9, 0.3, 0.8, 1.1, 0.2, 1.6, 0.7, 0.5, 1.4, 0.1, 1.0, 0.9];
const g = [1, 0, 1, 0, 0, 1, 0, 1, 0, 1, 1, 0, 1, 0];

describe("units that enter late", () => {
  it("Kaplan-Meier and its log-log limits are survfit's", () => {
    const { steps } = kaplanMeier({ time, event, entry }, { interval: "log-log" });
    expect(steps.map((s) => s.atRisk)).toEqual([10, 11, 11, 9, 8, 6, 4, 3, 2, 1]);
    const at = (t: number) => steps.find((s) => s.time === t)!;
    expect(at(9).survival).toBeCloseTo(0.743801652893, 11);
    expect(at(9).lower).toBeCloseTo(0.398784533122, 11);
    expect(at(9).upper).toBeCloseTo(0.909107930186, 11);
    expect(at(16).survival).toBeCloseTo(0.174328512397, 11);
    expect(at(16).lower).toBeCloseTo(0.0119244684609, 11);
    expect(at(16).upper).toBeCloseTo(0.502115858218, 11);
  });

  it("the restricted mean is survfit's, up to day 15", () => {
    const { mean, se } = restrictedMean(kaplanMeier({ time, event, entry }), 15);
    expect(mean).toBeCloseTo(11.57840909091, 10);
    expect(se).toBeCloseTo(1.11679034967, 10);
  });

  it("Cox regression with Efron's ties and start-stop times is coxph's", () => {
    const fit = coxRegression({ time, event, entry }, matrixFromRows(x.map((v, i) => [v, g[i]!])), {
      ties: "efron",
    });
    expect(fit.status).toBe("converged");
    expect(fit.coefficients[0]).toBeCloseTo(1.947844744008, 7);
    expect(fit.coefficients[1]).toBeCloseTo(-0.409085894793, 7);
    expect(fit.standardErrors[0]).toBeCloseTo(1.17245606139, 7);
    expect(fit.standardErrors[1]).toBeCloseTo(1.30219248216, 7);
    expect(fit.logLikelihood.null).toBeCloseTo(-14.9949283402, 9);
    expect(fit.logLikelihood.fitted).toBeCloseTo(-11.9605745986, 9);
  });

  it("the log-rank test is the score test of coxph where nothing is tied", () => {
    const untied = time.slice();
    untied[2] = 6.5;
    untied[5] = 11.5;
    untied[7] = 12.5;
    untied[12] = 9.5;
    const test = logRankTest({ time: untied, event, entry }, g.map(String));
    expect(test.chiSquared).toBeCloseTo(1.97522082736, 10);
  });

  it("Aalen-Johansen shares and their errors are survfit's", () => {
    const kind: (string | null)[] = [
      ...["seen", "died", "seen", null, "left", "seen"],
      ...["died", "seen", "seen", null, "left", "seen"],
    ];
    const twelve = <T>(list: readonly T[]) => list.slice(0, 12);
    const { steps } = competingRisks(twelve(time), kind, ["seen", "died", "left"], twelve(entry));
    const at = (t: number) => steps.find((s) => s.time === t)!;
    const wanted: readonly (readonly [number, readonly number[], readonly number[]])[] = [
      [6, [0.222222222222222, 0.0972222222222222, 0], [0.136397406135706, 0.0929823970759024, 0]],
      [
        12,
        [0.392361111111111, 0.182291666666667, 0.0850694444444444],
        [0.155710552843146, 0.1172908709035458, 0.0831797247619604],
      ],
      [
        18,
        [0.605034722222222, 0.182291666666667, 0.2126736111111111],
        [0.158917268676865, 0.1172908709035458, 0.1287444231451048],
      ],
    ];
    for (const [t, shares, errors] of wanted) {
      for (const k of [0, 1, 2]) {
        expect(at(t).cumulative[k]).toBeCloseTo(shares[k]!, 12);
        expect(at(t).se[k]).toBeCloseTo(errors[k]!, 12);
      }
    }
  });

  it("refuses a row that was never at risk", () => {
    expect(() => competingRisks([3, 4], ["a", "a"], ["a"], [0, 4])).toThrow(UsageError);
  });
});
